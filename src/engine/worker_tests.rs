//! The searching thread by itself.

use super::*;

/// Everything the search writes to is reserved before it starts. Counted by `allocation-counter`,
/// which puts itself in the place of the allocator and counts for this thread alone.
#[test]
fn the_search_loop_allocates_nothing() {
    use allocation_counter::measure;
    let seen = measure(|| drop(std::hint::black_box(vec![1_u8; 9])));
    assert_eq!(seen.count_total, 1);
    let table = Arc::new(Table::new(1));
    let mut worker = Worker::new(table.clone(), Arc::new(AtomicBool::new(false)));
    let limits = Limits {
        nodes: Some(20_000),
        ..Limits::default()
    };
    for p in crate::engine::bench::positions() {
        table.forget();
        worker.prepare(&p, &[p.key], &limits, Instant::now());
        worker.root_depth = 7;
        let counted = measure(|| {
            worker.search_root(&p, -INFINITE, INFINITE, 7, 0);
        });
        assert!(worker.nodes > 10);
        assert_eq!(counted.count_total, 0);
    }
}

/// The last line of rank 1 that a search reports.
fn last(p: &Position, limits: &Limits) -> (i32, i32, Option<Bound>, Option<Move>) {
    let table = Arc::new(Table::new(4));
    let mut worker = Worker::new(table, Arc::new(AtomicBool::new(false)));
    let mut last = (0, 0, None, None);
    worker.think(p, &[p.key], limits, &mut |r: &Report| {
        if r.rank == 1 {
            last = (r.depth, r.score, r.bound, r.line.first().copied());
        }
    });
    last
}

/// Wherever a limit of nodes falls, what is reported without a bound is what the whole round says of that
/// move; only a better move may have come after it.
#[test]
fn a_search_that_is_cut_off_never_gives_a_bound_for_a_score() {
    let (mut exact, mut bounds) = (0, 0);
    for p in crate::engine::bench::positions().take(12) {
        for nodes in (2_000..26_000).step_by(1_700) {
            let limits = Limits {
                nodes: Some(nodes),
                ..Limits::default()
            };
            let (depth, score, bound, mv) = last(&p, &limits);
            if bound.is_some() {
                bounds += 1;
                continue;
            }
            exact += 1;
            let whole = Limits {
                depth: Some(depth),
                ..Limits::default()
            };
            let (_, in_the_end, _, best) = last(&p, &whole);
            match mv == best {
                true => assert_eq!(score, in_the_end, "{nodes} nodes, depth {depth}"),
                false => assert!(score <= in_the_end, "{nodes} nodes, depth {depth}"),
            }
        }
    }
    assert!(
        exact > bounds && bounds > 0,
        "{exact} scores, {bounds} bounds"
    );
}
