//! Where a text has places for values, by the grammar of `std::fmt`: `{name:spec}`, with `{{` and `}}` for a brace.
//! The macro reads the sources with it, the catalogue the translations.

/// A part of a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Part {
    /// Words, with braces as they are shown.
    Words(String),
    /// A value: which one, by name or number, and how it is written (all that stands behind the colon).
    Value { which: String, spec: String },
}

/// The parts of a text. A place without a name has the number of its turn, as in `std::fmt`.
///
/// # Errors
/// A brace that opens and never closes, or closes and was never opened.
pub fn parts(text: &str) -> Result<Vec<Part>, String> {
    let mut parts = Vec::new();
    let mut words = String::new();
    let mut turn = 0;
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '{' if rest.next_if_eq(&'{').is_some() => words.push('{'),
            '}' if rest.next_if_eq(&'}').is_some() => words.push('}'),
            '}' => {
                return Err("a '}' that closes nothing: write '}}' for the brace itself".to_owned());
            }
            '{' => {
                let mut inside = String::new();
                loop {
                    match rest.next() {
                        Some('}') => break,
                        None | Some('{') => {
                            return Err(
                                "a '{' that is not closed: write '{{' for the brace itself"
                                    .to_owned(),
                            );
                        }
                        Some(c) => inside.push(c),
                    }
                }
                if !words.is_empty() {
                    parts.push(Part::Words(std::mem::take(&mut words)));
                }
                let (which, spec) = inside.split_once(':').unwrap_or((&inside, ""));
                let which = match which.trim() {
                    "" => {
                        turn += 1;
                        (turn - 1).to_string()
                    }
                    name => name.to_owned(),
                };
                parts.push(Part::Value {
                    which,
                    spec: spec.trim_end().to_owned(),
                });
            }
            c => words.push(c),
        }
    }
    if !words.is_empty() {
        parts.push(Part::Words(words));
    }
    Ok(parts)
}
