//! The collection that ships in the binary: every YAML file of `drills/`, `starter.yaml` first.

use std::sync::OnceLock;

use include_dir::{Dir, File, include_dir};

use super::{Drill, DrillError, load};

const STARTER: &str = "starter.yaml";
static FILES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/drills");

/// The built-in drills, the starter drill first.
///
/// # Errors
/// A file of the collection is wrong. A test keeps such a binary from being released.
pub fn builtin() -> Result<&'static [Drill], &'static [DrillError]> {
    static DRILLS: OnceLock<Result<Vec<Drill>, Vec<DrillError>>> = OnceLock::new();
    match DRILLS.get_or_init(collect) {
        Ok(drills) => Ok(drills),
        Err(errors) => Err(errors),
    }
}

/// The drills that everybody meets first, in the order of their file, which the collection begins with.
#[must_use]
pub fn starters() -> &'static [Drill] {
    let all = builtin().unwrap_or_default();
    let of_file = FILES
        .get_file(STARTER)
        .and_then(|file| load(file.contents_utf8()?, STARTER).ok());
    let count = of_file.map_or(0, |drills| drills.len());
    all.get(..count).unwrap_or_default()
}

/// The drills of all files.
fn collect() -> Result<Vec<Drill>, Vec<DrillError>> {
    let yaml = |file: &&File<'_>| file.path().extension().is_some_and(|e| e == "yaml");
    let mut files: Vec<_> = FILES.files().filter(yaml).collect();
    files.sort_by_key(|file| (!file.path().ends_with(STARTER), file.path()));
    let mut drills: Vec<Drill> = Vec::new();
    for file in files {
        let name = format!("drills/{}", file.path().display());
        let text = file.contents_utf8().unwrap_or_default();
        for drill in load(text, &name)? {
            if drills.iter().any(|d| d.id == drill.id) {
                return Err(vec![DrillError {
                    file: name,
                    line: 0,
                    column: 0,
                    id: Some(drill.id),
                    what: tr!("another file has a drill of this id; choose another").to_owned(),
                }]);
            }
            drills.push(drill);
        }
    }
    Ok(drills)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_of_a_grade_holds_that_grade_alone() {
        let mut files = 0;
        for file in FILES.files() {
            let name = file.path().display().to_string();
            let grade = name
                .strip_prefix("games-grade-")
                .and_then(|rest| rest.strip_suffix(".yaml"));
            let Some(grade) = grade else { continue };
            files += 1;
            for drill in load(file.contents_utf8().unwrap(), &name).unwrap() {
                let found = drill.grade.map(|g| g.to_string());
                assert_eq!(found.as_deref(), Some(grade), "{name}: {}", drill.id);
            }
        }
        assert_eq!(files, 5);
    }
}
