//! That all texts are in one place: the template is made of the sources, and what the program shows comes from it.

mod extract;

use crate::translation::{self, foreign};
use extract::Texts;

/// Set, the template is written anew instead of compared.
const WRITE: &str = "FOREPLY_TEMPLATE";

/// The false translation has every text of the program, and each fits.
#[test]
fn the_template_can_be_translated_as_a_whole() {
    let texts = Texts::of_sources().all.len();
    let check = translation::check(
        translation::TEMPLATE,
        &foreign::translation(translation::TEMPLATE),
    );
    let check = check.unwrap();
    assert_eq!((check.texts, check.translated), (texts, texts));
    assert_eq!(check.unfit, []);
    assert!(check.missing.is_empty() && check.unknown.is_empty());
}

#[test]
fn the_template_is_that_of_the_sources() {
    let texts = Texts::of_sources();
    assert!(texts.faults.is_empty(), "{:#?}", texts.faults);
    assert!(texts.all.len() > 2_000, "{}", texts.all.len());
    let template = texts.template();
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/translation/foreply.pot");
    if std::env::var_os(WRITE).is_some() {
        std::fs::write(path, &template).unwrap();
        return;
    }
    let kept = std::fs::read_to_string(path).unwrap();
    let first = kept.lines().zip(template.lines()).find(|(a, b)| a != b);
    assert!(
        kept == template,
        "src/translation/foreply.pot is not that of the sources (first difference: {first:?}); write it anew:\n\
         {WRITE}=1 cargo test --lib the_template_is_that_of_the_sources"
    );
}
