//! What a coach wrote to a locked attempt: a layer over the player's tree, which stays as it was.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::FoldError;
use crate::tree::{Author, EditError, NodeId, Tree, Verdict};

/// One thing a coach wrote. Nodes are those of [`Coached::tree`]: the player's own, with their numbers,
/// and behind them what the coaches added.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum Remark {
    /// A half-move below `parent`.
    Added { parent: NodeId, text: String },
    /// His verdict on the position after a move.
    Judged { node: NodeId, verdict: Verdict },
    /// Glyphs about a move (PGN standard 1994, section 10).
    Marked { node: NodeId, nags: Vec<u8> },
    /// His words on a move, or on the position (the root); they replace his earlier ones.
    Said { node: NodeId, text: String },
    /// The position after this move is homework, to be done by the day `due` (ISO 8601, `2026-12-05`) where he
    /// names one.
    Homework {
        node: NodeId,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        due: Option<String>,
    },
}

/// The name of a finding, or of all findings at a place: what a coach strikes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct FindingSelector {
    /// Moves from the root to the place, in SAN.
    pub path: Vec<String>,
    /// The finding's kind by its name in reports (`missed-defence`); `None` for all of the place.
    pub kind: Option<String>,
    /// The overlooked move in SAN; `None` for any.
    pub resource: Option<String>,
}

impl FindingSelector {
    /// True where this names the finding of that kind and move at one of those paths.
    #[must_use]
    pub fn names(&self, paths: &[Vec<String>], kind: &str, resource: &str) -> bool {
        paths.contains(&self.path)
            && self.kind.as_deref().is_none_or(|k| k == kind)
            && self.resource.as_deref().is_none_or(|r| r == resource)
    }
}

/// A finding as it was sent, so that its number can be answered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SentFinding {
    pub finding: FindingSelector,
    /// The words it was sent in.
    pub text: String,
}

/// A finding that a coach struck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overruling {
    pub by: String,
    pub finding: FindingSelector,
    pub reason: String,
}

/// What one coach says about one move.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Remarks {
    pub verdict: Option<Verdict>,
    pub nags: Vec<u8>,
    pub words: String,
    pub homework: bool,
    /// The day by which the homework is to be done, as ISO 8601 writes it.
    pub due: Option<String>,
}

/// All that coaches wrote to one attempt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coached {
    tree: Tree,
    /// Who added which node.
    added: BTreeMap<NodeId, String>,
    remarks: BTreeMap<(NodeId, String), Remarks>,
    overruled: Vec<Overruling>,
    told: Vec<SentFinding>,
    homework_told: Vec<String>,
    player: Option<String>,
}

impl Coached {
    /// Nothing said yet about a player's tree.
    #[must_use]
    pub fn new(tree: &Tree) -> Self {
        Self {
            tree: tree.clone(),
            added: BTreeMap::new(),
            remarks: BTreeMap::new(),
            overruled: Vec::new(),
            told: Vec::new(),
            homework_told: Vec::new(),
            player: None,
        }
    }

    /// Adds one remark.
    ///
    /// # Errors
    /// Its move cannot be written there, or its node does not exist. Nothing has changed then.
    pub fn apply(&mut self, by: &str, remark: &Remark) -> Result<(), FoldError> {
        match remark {
            Remark::Added { parent, text } => {
                let before = self.tree.len();
                let node = self.tree.add(*parent, text, Author::Coach, 0)?;
                if self.tree.len() > before {
                    self.added.insert(node, by.to_owned());
                }
            }
            Remark::Judged { node, verdict } => self.at(*node, by)?.verdict = Some(*verdict),
            Remark::Marked { node, nags } => self.at(*node, by)?.nags.clone_from(nags),
            Remark::Said { node, text } => self.at(*node, by)?.words.clone_from(text),
            Remark::Homework { node, due } => {
                let at = self.at(*node, by)?;
                at.homework = true;
                at.due.clone_from(due);
            }
        }
        Ok(())
    }

    fn at(&mut self, node: NodeId, by: &str) -> Result<&mut Remarks, FoldError> {
        if node != NodeId::ROOT && self.tree.node(node).is_none() {
            return Err(EditError::NoSuchNode(node.0).into());
        }
        Ok(self.remarks.entry((node, by.to_owned())).or_default())
    }

    pub(super) fn overrule(&mut self, by: &str, finding: &FindingSelector, reason: &str) {
        self.uphold(finding);
        self.overruled.push(Overruling {
            by: by.to_owned(),
            finding: finding.clone(),
            reason: reason.to_owned(),
        });
    }

    pub(super) fn uphold(&mut self, finding: &FindingSelector) {
        self.overruled.retain(|o| o.finding != *finding);
    }

    /// It went out once more: with these findings, and these sentences on homework.
    pub(super) fn sent(
        &mut self,
        told: &[SentFinding],
        homework: &[String],
        player: Option<&String>,
    ) {
        self.told = told.to_vec();
        // Of all files that went out: an earlier one may come back after a later one.
        for sentence in homework {
            if !self.homework_told.contains(sentence) {
                self.homework_told.push(sentence.clone());
            }
        }
        if let Some(player) = player {
            self.player = Some(player.clone());
        }
    }

    pub(super) fn clarify(&mut self, node: NodeId, uci: &str) -> Result<(), FoldError> {
        Ok(self.tree.clarify(node, uci)?)
    }

    /// The player's tree with what the coaches added.
    #[must_use]
    pub fn tree(&self) -> &Tree {
        &self.tree
    }

    /// Who added a move; `None` for the player's own.
    #[must_use]
    pub fn added_by(&self, node: NodeId) -> Option<&str> {
        self.added.get(&node).map(String::as_str)
    }

    /// What a coach says about a move.
    #[must_use]
    pub fn remarks_by(&self, node: NodeId, by: &str) -> Option<&Remarks> {
        self.remarks.get(&(node, by.to_owned()))
    }

    /// All remarks, with the move and the coach, in the order of the moves.
    pub fn remarks(&self) -> impl Iterator<Item = (NodeId, &str, &Remarks)> {
        self.remarks.iter().map(|((n, by), r)| (*n, by.as_str(), r))
    }

    /// The findings that were struck.
    #[must_use]
    pub fn overruled(&self) -> &[Overruling] {
        &self.overruled
    }

    /// The sentences on homework that went out with the attempt, each once.
    #[must_use]
    pub fn homework_told(&self) -> &[String] {
        &self.homework_told
    }

    /// The name under which the player sent it last.
    #[must_use]
    pub fn player(&self) -> Option<&str> {
        self.player.as_deref()
    }

    /// The findings as they were sent last, the first being number 1.
    #[must_use]
    pub fn told(&self) -> &[SentFinding] {
        &self.told
    }
}
