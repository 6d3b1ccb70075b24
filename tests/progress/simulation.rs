//! Simulation as proof: invented players whose weaknesses are known, through thousands of attempts. What
//! was planted must be found, and nothing where nothing is.
//!
//! The players are those of `tests/support/player.rs`.

use foreply::progress::judgement::judgement;
use foreply::progress::stats::Rate;
use foreply::progress::{AttemptStatistics, Outcome, Source};

#[path = "../support/player.rs"]
pub mod player;

use player::{Dice, Player, course, found};

#[test]
fn no_weakness_is_named_in_at_most_a_tenth_of_runs() {
    let (runs, after) = (150, [30, 100, 250]);
    let mut wrong = [Rate::default(); 3];
    for run in 0..runs {
        for (sum, named) in wrong
            .iter_mut()
            .zip(course(&Player::default(), &after, run))
        {
            sum.add(!named.is_empty());
        }
    }
    for (attempts, wrong) in after.iter().zip(wrong) {
        println!(
            "no weakness, {attempts} attempts: named in {} of {runs} runs",
            wrong.part
        );
        assert!(wrong.share() <= 0.10, "{attempts} attempts: {wrong:?}");
    }
}

#[test]
fn thirty_points_on_backward_moves_are_found() {
    let player = Player {
        weak: vec![("backward-moves", 0.30)],
    };
    let (after, others) = found(&player, "backward-moves", &[120], 40)[0];
    println!(
        "30 points, 120 attempts: found in {} of 40 runs, {others:.2} others",
        after.part
    );
    assert!(after.share() >= 0.80, "{after:?}");
    // Besides what was planted little else is named: the procedure allows one in ten.
    assert!(others <= 0.25, "{others}");
}

/// After how many attempts is a weakness of 20 points found? The README quotes this table.
#[test]
fn the_power_curve() {
    let (runs, after) = (40, [50, 100, 200, 300, 400]);
    println!("weakness of 20 points, named after so many attempts ({runs} runs each):");
    for name in ["backward-moves", "replies-that-give-up"] {
        let player = Player {
            weak: vec![(name, 0.20)],
        };
        let row = found(&player, name, &after, runs);
        let cells = after.iter().zip(&row);
        let cells: Vec<String> = cells
            .map(|(n, (r, _))| format!("{n}: {:.0} %", r.share() * 100.0))
            .collect();
        println!("  {name:<22} {}", cells.join("   "));
        let last = row[row.len() - 1].0;
        assert!(last.share() >= 0.80, "{name}: {last:?}");
    }
}

/// Slow, and short of time at the end: what is written late is missed more often, and is named.
#[test]
fn the_slow_player_is_found() {
    let player = Player {
        weak: vec![("little-time", 0.20)],
    };
    let (after, _) = found(&player, "little-time", &[200], 30)[0];
    println!(
        "slow player, 200 attempts: named in {} of 30 runs",
        after.part
    );
    assert!(after.share() >= 0.80, "{after:?}");
}

/// An attempt with verdicts that are off by `hope` on average.
pub fn judged(dice: &mut Dice, hope: f64) -> AttemptStatistics {
    let own = 0.08 * dice.normal();
    let verdicts = (0..3).map(|_| {
        let truth = dice.share();
        let stated = (truth + hope + own + 0.10 * dice.normal()).clamp(0.0, 1.0);
        (stated as f32, truth as f32, 1)
    });
    AttemptStatistics {
        wall_ms: 0,
        root: String::new(),
        source: Source::Sitting,
        sight: foreply::attempt::BoardVisibility::Root,
        first: true,
        trials: Vec::new(),
        verdicts: verdicts.collect(),
        standing: 0.5,
        kinds: Vec::new(),
        outcome: Outcome::Solved,
        needed: 3,
        reached: 3,
        sound: 3,
        plausible: 2,
        first_reply_ms: None,
        spent_ms: None,
        dropped_ms: None,
        forecast: None,
    }
}

#[test]
fn the_hopeful_player_is_found_and_the_sober_one_is_not() {
    let says = |hope: f64, seed: u64| {
        let mut dice = Dice(seed);
        let attempts: Vec<AttemptStatistics> = (0..40).map(|_| judged(&mut dice, hope)).collect();
        let refs: Vec<&AttemptStatistics> = attempts.iter().collect();
        judgement(&refs, &[]).all.unwrap().words()
    };
    let hopeful = (0..100).filter(|s| says(0.10, *s) == "too hopeful").count();
    let sober = (0..100)
        .filter(|s| says(0.0, *s) != "no lean either way")
        .count();
    println!("hopeful found in {hopeful} of 100 runs of 40 attempts; sober misjudged in {sober}");
    assert!(hopeful >= 95, "{hopeful}");
    assert!(sober <= 10, "{sober}");
}
