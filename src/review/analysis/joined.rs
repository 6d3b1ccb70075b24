//! Which written moves lead to one place: two spellings of one move, and orders of moves that meet.
//!
//! Places are one where the Laws call the positions the same and both are equally far from the root: so the joined
//! tree has no circles, and what is known below one way is known below all of them.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use shakmaty::Move;

use crate::tree::{NodeId, Tree};

/// The ways to each place of a written tree, and what stands below it on any of them.
pub(crate) struct Joined {
    /// All ways to a place that has more than one, for each of them; in the order of writing.
    ways: BTreeMap<NodeId, Vec<NodeId>>,
    /// What follows at a place where that is not simply what stands below its node.
    following: BTreeMap<NodeId, Vec<NodeId>>,
}

impl Joined {
    pub(crate) fn of(tree: &Tree) -> Self {
        let mut joined = Self {
            ways: ways(tree),
            following: BTreeMap::new(),
        };
        let standing = tree.nodes().map(|(id, _)| id).filter(|id| tree.stands(*id));
        for id in std::iter::once(NodeId::ROOT).chain(standing) {
            let following = joined.follow(tree, id);
            if !tree.standing(id).eq(following.iter().copied()) {
                joined.following.insert(id, following);
            }
        }
        joined
    }

    /// True where every place has one way and every move one spelling.
    pub(crate) fn is_plain(&self) -> bool {
        self.ways.is_empty() && self.following.is_empty()
    }

    /// The ways to the place of `id`, itself first.
    pub(crate) fn ways(&self, id: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        let others = self.ways.get(&id).into_iter().flatten().copied();
        std::iter::once(id).chain(others.filter(move |other| *other != id))
    }

    /// The standing moves at the place of `id`: its own first, each legal move once.
    pub(crate) fn standing<'t>(
        &'t self,
        tree: &'t Tree,
        id: NodeId,
    ) -> impl Iterator<Item = NodeId> + 't {
        let joined = self.following.get(&id);
        let own = joined.is_none().then(|| tree.standing(id));
        joined
            .into_iter()
            .flatten()
            .copied()
            .chain(own.into_iter().flatten())
    }

    /// Every place from which that of `id` is reached, itself with them.
    pub(crate) fn above(&self, tree: &Tree, id: NodeId) -> BTreeSet<NodeId> {
        let mut found = BTreeSet::new();
        let mut open = vec![id];
        while let Some(at) = open.pop() {
            for way in self.ways(at) {
                if found.insert(way) && way != NodeId::ROOT {
                    open.extend(tree.parent(way));
                }
            }
        }
        found
    }

    /// Every place that is reached from that of `id`, itself with them.
    pub(crate) fn below(&self, tree: &Tree, id: NodeId) -> BTreeSet<NodeId> {
        let mut found = BTreeSet::new();
        let mut open = vec![id];
        while let Some(at) = open.pop() {
            if found.insert(at) {
                open.extend(self.ways(at));
                open.extend(self.standing(tree, at));
            }
        }
        found
    }

    fn follow(&self, tree: &Tree, id: NodeId) -> Vec<NodeId> {
        let mut following = Vec::new();
        let mut seen: Vec<&Move> = Vec::new();
        for way in self.ways(id) {
            for child in tree.standing(way) {
                match tree.legal(child) {
                    Some(mv) if seen.contains(&mv) => {}
                    Some(mv) => {
                        seen.push(mv);
                        following.push(child);
                    }
                    // What cannot be played leads nowhere, and is told where it was written.
                    None if way == id => following.push(child),
                    None => {}
                }
            }
        }
        following
    }
}

fn ways(tree: &Tree) -> BTreeMap<NodeId, Vec<NodeId>> {
    let mut places: HashMap<_, Vec<NodeId>> = HashMap::new();
    for (id, _) in tree.nodes().filter(|(id, _)| tree.stands(*id)) {
        if let Some(line) = tree.line(id) {
            // A claim or a result can depend on the way.
            let place = (line.ply(), line.key(), line.rule());
            places.entry(place).or_default().push(id);
        }
    }
    let several = places.into_values().filter(|ids| ids.len() > 1);
    several
        .flat_map(|ids| ids.clone().into_iter().map(move |id| (id, ids.clone())))
        .collect()
}
