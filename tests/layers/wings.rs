//! Who may import what inside a room, by folder: the table that DEVELOPERS.md draws.

/// Files of one folder, and what they may or may not name.
pub struct Rule {
    /// Modules that it is about: those that begin with this.
    pub of: &'static str,
    /// Inside `within`, only modules that begin with one of these; empty for all.
    pub within: &'static str,
    pub only: &'static [&'static str],
    /// Never one of these, wherever they are.
    pub never: &'static [&'static str],
    pub why: &'static str,
}

impl Rule {
    pub fn is_about(&self, file: &str) -> bool {
        is_below(file, self.of)
    }

    pub fn allows(&self, file: &str, path: &str) -> bool {
        let own = is_below(path, self.of) || path == file;
        let listed = self.only.iter().any(|o| is_below(path, o));
        let inside = self.within.is_empty() || !is_below(path, self.within) || own || listed;
        // A rule of `only` speaks of the room's own folders; re-exports at its door are the door's.
        let door = !self.within.is_empty() && path == self.within;
        (inside || door) && !self.never.iter().any(|n| is_below(path, n))
    }
}

fn is_below(module: &str, folder: &str) -> bool {
    module
        .strip_prefix(folder)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with("::"))
}

pub const RULES: &[Rule] = &[
    Rule {
        of: "app::attempts",
        within: "app",
        only: &[
            "app::error",
            "app::runtime",
            "app::projections",
            "app::practice::catalogue",
        ],
        never: &[],
        why: "sittings know no service that stands on them",
    },
    Rule {
        of: "app::projections",
        within: "app",
        only: &["app::attempts::records", "app::playouts::records"],
        never: &["judge"],
        why: "a projection is made of what the log says",
    },
    Rule {
        of: "review::model",
        within: "review",
        only: &[],
        never: &[],
        why: "plain values that every stage may know",
    },
    Rule {
        of: "review::analysis",
        within: "review",
        only: &["review::model"],
        never: &[],
        why: "asks the judge, detects nothing",
    },
    Rule {
        of: "review::findings",
        within: "review",
        only: &["review::model", "review::analysis"],
        never: &[],
        why: "detects, and asks nobody",
    },
    Rule {
        of: "review::confirmation",
        within: "review",
        only: &[
            "review::model",
            "review::analysis",
            "review::findings",
            "review::wording",
        ],
        never: &[],
        why: "asks again what was detected",
    },
    Rule {
        of: "review::measures",
        within: "review",
        only: &[
            "review::model",
            "review::analysis",
            "review::findings",
            "review::confirmation",
            "review::wording",
        ],
        never: &[],
        why: "what is no fault comes last",
    },
    Rule {
        of: "review::wording",
        within: "review",
        only: &["review::model"],
        never: &[],
        why: "sees evidence alone, and makes sentences",
    },
    Rule {
        of: "cli::commands",
        within: "cli",
        only: &[
            "cli::args",
            "cli::letters",
            "cli::locate",
            "cli::open_app",
            "cli::shell",
            "cli::told",
        ],
        never: &[],
        why: "a command knows no other command",
    },
    Rule {
        of: "cli::args",
        within: "cli",
        only: &["cli::shell::error"],
        never: &["report"],
        why: "arguments are read without a side effect",
    },
];

#[test]
fn rules_see_what_they_must() {
    let rule = Rule {
        of: "room::wing",
        within: "room",
        only: &["room::other"],
        never: &["judge"],
        why: "",
    };
    assert!(rule.is_about("room::wing::file") && !rule.is_about("room::wings"));
    let allows = |path| rule.allows("room::wing::file", path);
    assert!(allows("room::wing::next") && allows("room::other::x") && allows("text"));
    assert!(!allows("room::third") && !allows("judge::pool"));
}
