//! Which plural form goes with a number: the expression in a translation's header (`Plural-Forms`), which is one of C
//! with the variable n (GNU gettext manual, section 'Additional functions for plural forms').

/// Operators by how closely they bind, the loosest first, as in C (ISO/IEC 9899, 6.5).
const LEVELS: [&[&str]; 6] = [
    &["||"],
    &["&&"],
    &["==", "!="],
    &["<=", ">=", "<", ">"],
    &["+", "-"],
    &["*", "/", "%"],
];
/// No language needs more; deeper ones are refused before they fill the stack.
const DEPTH_MAX: usize = 40;

/// An expression that gives the number of a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Rule {
    N,
    Number(u64),
    Not(Box<Rule>),
    Pair(&'static str, Box<Rule>, Box<Rule>),
    Choice(Box<Rule>, Box<Rule>, Box<Rule>),
}

impl Rule {
    /// Reads an expression.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let mut reader = Reader {
            rest: text.trim().trim_end_matches(';'),
            depth: 0,
        };
        let rule = reader.choice()?;
        reader.rest.trim().is_empty().then_some(rule)
    }

    /// The form for a number; nothing where it divides by zero.
    pub(super) fn form(&self, n: u64) -> Option<u64> {
        Some(match self {
            Self::N => n,
            Self::Number(number) => *number,
            Self::Not(of) => u64::from(of.form(n)? == 0),
            Self::Choice(condition, yes, no) => match condition.form(n)? {
                0 => no.form(n)?,
                _ => yes.form(n)?,
            },
            Self::Pair("||", a, b) => u64::from(a.form(n)? != 0 || b.form(n)? != 0),
            Self::Pair("&&", a, b) => u64::from(a.form(n)? != 0 && b.form(n)? != 0),
            Self::Pair(operator, a, b) => {
                let (a, b) = (a.form(n)?, b.form(n)?);
                match *operator {
                    "==" => u64::from(a == b),
                    "!=" => u64::from(a != b),
                    "<=" => u64::from(a <= b),
                    ">=" => u64::from(a >= b),
                    "<" => u64::from(a < b),
                    ">" => u64::from(a > b),
                    "+" => a.wrapping_add(b),
                    "-" => a.wrapping_sub(b),
                    "*" => a.wrapping_mul(b),
                    "/" => a.checked_div(b)?,
                    _ => a.checked_rem(b)?,
                }
            }
        })
    }
}

struct Reader<'a> {
    rest: &'a str,
    depth: usize,
}

impl Reader<'_> {
    fn takes(&mut self, sign: &str) -> bool {
        match self.rest.trim_start().strip_prefix(sign) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn choice(&mut self) -> Option<Rule> {
        self.depth += 1;
        if self.depth > DEPTH_MAX {
            return None;
        }
        let condition = self.pair(&LEVELS)?;
        let rule = match self.takes("?") {
            false => condition,
            true => {
                let yes = self.choice()?;
                if !self.takes(":") {
                    return None;
                }
                Rule::Choice(condition.into(), yes.into(), self.choice()?.into())
            }
        };
        self.depth -= 1;
        Some(rule)
    }

    fn pair(&mut self, levels: &[&[&'static str]]) -> Option<Rule> {
        let Some((level, closer)) = levels.split_first() else {
            return self.single();
        };
        let mut rule = self.pair(closer)?;
        while let Some(operator) = level.iter().find(|o| self.takes(o)) {
            rule = Rule::Pair(operator, rule.into(), self.pair(closer)?.into());
        }
        Some(rule)
    }

    fn single(&mut self) -> Option<Rule> {
        if self.takes("(") {
            let rule = self.choice()?;
            return self.takes(")").then_some(rule);
        }
        if self.takes("!") {
            self.depth += 1;
            let of = if self.depth > DEPTH_MAX {
                None
            } else {
                self.single()
            };
            self.depth -= 1;
            return of.map(|of| Rule::Not(of.into()));
        }
        if self.takes("n") {
            return Some(Rule::N);
        }
        let rest = self.rest.trim_start();
        let end = rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(rest.len());
        let (number, rest) = rest.split_at_checked(end)?;
        self.rest = rest;
        number.parse().ok().map(Rule::Number)
    }
}
