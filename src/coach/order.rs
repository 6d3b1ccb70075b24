//! What a coach orders by a word in a comment.

use jiff::civil::Date;

/// An order found in a coach's words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Order {
    /// Strike the findings with these numbers; those of the place where there is none.
    Overruled { numbers: Vec<usize>, reason: String },
    /// Let them stand again.
    Upheld { numbers: Vec<usize> },
    /// The position here is homework: what to do, and the day by which.
    Homework { due: Option<Date>, words: String },
}

const HOMEWORK: &str = "homework";
const WORDS: [&str; 3] = ["overruled", "upheld", HOMEWORK];

/// The orders in a coach's words, in their order. A word of these is an order where it stands by
/// itself and a colon follows, with numbers between the two or without, for homework a day as ISO 8601 writes it
/// (`Homework by 2026-12-05:`); its reason goes to the next order.
#[must_use]
pub fn orders(words: &str) -> Vec<Order> {
    let marks = marks(words);
    let ends = marks.iter().skip(1).map(|m| m.from);
    let ends: Vec<usize> = ends.chain([words.len()]).collect();
    let told = marks.iter().zip(ends);
    told.map(|(mark, end)| mark.order(words.get(mark.to..end).unwrap_or_default()))
        .collect()
}

/// True where a word stands that would be an order with a colon.
#[must_use]
pub(super) fn looks_like_an_order(words: &str) -> bool {
    let first = words.split_whitespace().next().unwrap_or_default();
    WORDS.iter().any(|w| {
        first
            .trim_end_matches(['.', ',', '!'])
            .eq_ignore_ascii_case(w)
    })
}

struct Mark {
    word: &'static str,
    numbers: Vec<usize>,
    due: Option<Date>,
    from: usize,
    /// Behind the colon.
    to: usize,
}

impl Mark {
    fn order(&self, reason: &str) -> Order {
        let numbers = self.numbers.clone();
        match self.word {
            "overruled" => Order::Overruled {
                numbers,
                reason: reason.trim().to_owned(),
            },
            "upheld" => Order::Upheld { numbers },
            _ => Order::Homework {
                due: self.due,
                words: reason.trim().to_owned(),
            },
        }
    }
}

fn marks(words: &str) -> Vec<Mark> {
    // Only ASCII letters change, so places stay the same.
    let small = words.to_ascii_lowercase();
    let mut marks: Vec<Mark> = WORDS
        .iter()
        .flat_map(|word| {
            let found = small.match_indices(word);
            found.filter_map(|(from, _)| mark(&small, from, word))
        })
        .collect();
    marks.sort_by_key(|m| m.from);
    marks
}

fn mark(text: &str, from: usize, word: &'static str) -> Option<Mark> {
    let alone = text.get(..from)?.chars().next_back();
    if alone.is_some_and(char::is_alphanumeric) {
        return None;
    }
    let behind = text.get(from + word.len()..)?;
    let colon = behind.find(':')?;
    let between = behind.get(..colon)?;
    let (mut numbers, mut due) = (Vec::new(), None);
    let parts = between.split([' ', ',', '&']).filter(|p| !p.is_empty());
    for part in parts {
        let is_filler = part == "and" || (word == HOMEWORK && matches!(part, "by" | "for"));
        if is_filler {
            continue;
        }
        if word == HOMEWORK {
            due = Some(part.parse().ok()?);
        } else {
            numbers.push(part.parse().ok()?);
        }
    }
    Some(Mark {
        word,
        numbers,
        due,
        from,
        to: from + word.len() + colon + 1,
    })
}
