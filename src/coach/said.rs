//! What coaches said to an attempt, in sentences.

use crate::attempt::{Coached, Remarks};
use crate::tree::{NodeId, Tree};

/// One sentence for each move a coach said something to, and one for each finding that was struck. The moves he
/// added stand in [`Coached::tree`].
#[must_use]
pub fn said(coached: &Coached) -> Vec<String> {
    let tree = coached.tree();
    let remarks = coached.remarks().filter_map(|(node, by, remarks)| {
        let what = of(remarks)?;
        Some(format!("{by}, {}: {what}", place(tree, node)))
    });
    let struck = coached.overruled().iter().map(|o| {
        let why = match o.reason.trim() {
            "" => String::new(),
            why => format!(": {why}"),
        };
        let at = match o.finding.path.as_slice() {
            [] => "at the position".to_owned(),
            path => format!("after {}", path.join(" ")),
        };
        format!("{} struck a finding {at}{why}.", o.by)
    });
    remarks.chain(struck).collect()
}

fn place(tree: &Tree, node: NodeId) -> String {
    match tree.sans(node).as_slice() {
        [] => "on the position".to_owned(),
        path => format!("after {}", path.join(" ")),
    }
}

fn of(remarks: &Remarks) -> Option<String> {
    let words = remarks.words.trim();
    let parts = [
        (!words.is_empty()).then(|| words.to_owned()),
        remarks.verdict.map(|v| format!("judged {v}")),
        remarks.homework.then(|| "set as homework".to_owned()),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}
