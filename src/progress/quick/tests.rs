use jiff::tz::TimeZone;

use super::*;
use crate::board::random::SplitMix;
use crate::progress::record::tests::plain;
use crate::progress::schedule::DAY_MS;
use crate::progress::{AttemptStatistics, Source};
use crate::review::FindingKind;

fn made(clock_s: u64, solved: bool) -> Try {
    Try {
        ladder: 1,
        wall_ms: 0,
        clock_ms: clock_s * 1000,
        used_ms: clock_s * 1000,
        solved,
        sound: 3,
        needed: 3,
    }
}

#[test]
fn one_step_down_and_three_up() {
    assert_eq!(next_clock_ms(&[], 240_000), 240_000);
    // Up to the first that is not solved: half an octave.
    assert_eq!(next_clock_ms(&[made(120, true)], 0), 85_000);
    assert_eq!(next_clock_ms(&[made(120, false)], 0), 170_000);
    let after = [made(120, false), made(170, true)];
    assert_eq!(next_clock_ms(&after, 0), 151_000);
    // Three down are what one up was.
    let three = [made(170, true), made(151, true), made(135, true)];
    let all: Vec<Try> = std::iter::once(made(120, false)).chain(three).collect();
    assert_eq!(next_clock_ms(&all, 0), 120_000);
    assert_eq!(next_clock_ms(&[made(10, true)], 0), CLOCK_MIN_MS);
    assert_eq!(next_clock_ms(&[made(1800, false)], 0), CLOCK_MAX_MS);
}

#[test]
fn it_begins_where_three_of_four_were_solved() {
    let sat = [
        (50_000, true),
        (90_000, true),
        (70_000, true),
        (400_000, false),
    ];
    assert_eq!(first_clock_ms(&sat, 480_000), 90_000);
    // Half of them: no time was enough; or too few to say.
    let half = [
        (50_000, true),
        (90_000, true),
        (1000, false),
        (400_000, false),
    ];
    assert_eq!(first_clock_ms(&half, 480_000), 480_000);
    assert_eq!(first_clock_ms(&sat[..3], 480_000), 480_000);
}

/// A player who solves with `1 / (1 + exp(-s (log2 t - log2 T) - ln 3))`: so many tries from the first clock on.
fn played(random: &mut SplitMix, seconds: f64, slope: f64, tries: usize) -> Vec<Try> {
    let mut all: Vec<Try> = Vec::new();
    for _ in 0..tries {
        let clock_ms = next_clock_ms(&all, 480_000);
        let x = slope * ((clock_ms as f64 / 1000.0).log2() - seconds.log2()) + 3f64.ln();
        let chance = 1.0 / (1.0 + (-x).exp());
        let drawn = (random.roll() >> 11) as f64 / (1u64 << 53) as f64;
        let mut one = made(1, drawn < chance);
        one.clock_ms = clock_ms;
        all.push(one);
    }
    all
}

/// The clock settles where three of four are solved, and the interval holds the true time. Prints the figures of the help
/// (`cargo test --lib quick -- --nocapture`).
#[test]
fn invented_players_whose_time_is_known() {
    const RUNS: usize = 300;
    let mut random = SplitMix(1991);
    for tries in [12, 24, 48] {
        let (mut held, mut width, mut of) = (0, 0.0, 0);
        for (seconds, slope) in [(40.0, 1.0), (100.0, 2.0), (200.0, 1.0)] {
            let mut late = (0, 0);
            for _ in 0..RUNS {
                let all = played(&mut random, seconds, slope, tries);
                let told = threshold(&all).unwrap();
                held += usize::from(told.interval.holds(seconds));
                width += (told.interval.high / told.interval.low).log2();
                of += 1;
                let settled = all.iter().skip(12);
                late.0 += settled.clone().filter(|t| t.solved).count();
                late.1 += settled.count();
            }
            if tries == 48 {
                let share = late.0 as f64 / late.1 as f64;
                println!(
                    "true time {seconds} s, slope {slope}: solved {share:.3} from the 13th try on"
                );
                assert!((0.72..0.78).contains(&share), "{seconds}: {share}");
            }
        }
        let (held, width) = (held as f64 / of as f64, width / of as f64);
        println!("{tries} tries: interval holds {held:.3}, {width:.2} octaves wide");
        assert!(held > 0.92, "{tries}: {held}");
    }
}

#[test]
fn below_eight_tries_nothing_is_said() {
    let tries = [made(60, true); 8];
    assert_eq!(threshold(&tries[..7]), None);
    let all_solved = threshold(&tries).unwrap();
    // Solved eight times in a minute: the time is shorter, how much nobody knows.
    assert!(all_solved.seconds < 60.0 && all_solved.interval.low < 6.0);
}

#[test]
fn weeks_and_half_moves_in_a_minute() {
    let mut slow = made(120, true);
    let mut fast = made(30, false);
    (slow.used_ms, slow.sound) = (60_000, 3);
    (fast.used_ms, fast.sound, fast.wall_ms) = (30_000, 9, 7 * DAY_MS);
    let mut other = fast;
    other.ladder = 2;
    let given = [QuickGiven {
        ladder: 1,
        positions: 84,
        left: 82,
        first_ms: 480_000,
    }];
    let of = quick(&[slow, fast, other], &given, &[], &TimeZone::UTC);
    let first = &of.ladders[0];
    assert_eq!((first.positions, first.left), (84, 82));
    assert_eq!(first.solved, crate::progress::stats::Rate::new(1, 2));
    assert_eq!(first.clock_ms, 42_000);
    let weeks: Vec<_> = first
        .weeks
        .iter()
        .map(|w| (w.per_minute, w.clock_ms))
        .collect();
    // What was sound beyond the needed depth does not count.
    assert_eq!(weeks, [(3.0, 120_000), (6.0, 30_000)]);
    assert_eq!(of.ladders[1].solved.of, 1);
    assert!(!of.is_empty() && quick(&[], &[], &[], &TimeZone::UTC).is_empty());
}

/// Attempts at speed and without a hurry; `hard` ones have the error always, and at speed there are more of them.
#[test]
fn errors_are_compared_at_equal_difficulty() {
    let attempt = |source: Source, hard: bool, error: bool| {
        let mut c = plain(0);
        c.source = source;
        c.needed = if hard { 7 } else { 3 };
        if error {
            c.kinds = vec![FindingKind::StoppedShort.into()];
        }
        c
    };
    let of = |quick: (usize, usize), calm: (usize, usize)| -> Vec<AttemptStatistics> {
        let many = |source, hard: usize, easy: usize| {
            let hard = (0..hard).map(move |i| attempt(source, true, i % 2 == 0));
            hard.chain((0..easy).map(move |i| attempt(source, false, i % 10 == 0)))
        };
        many(Source::Quick, quick.0, quick.1)
            .chain(many(Source::Sitting, calm.0, calm.1))
            .collect()
    };
    let told = |all: &[AttemptStatistics]| {
        let refs: Vec<&AttemptStatistics> = all.iter().collect();
        quick(&[], &[], &refs, &TimeZone::UTC).errors
    };
    // Far more often in all, and as often at equal difficulty.
    let all = of((80, 20), (20, 80));
    let errors = told(&all);
    assert_eq!(errors.len(), 1);
    assert!(errors[0].enough && !errors[0].of_speed, "{errors:?}");
    assert!(errors[0].difference.abs() < 0.02, "{errors:?}");
    // Every one at speed has it, at the same difficulty.
    let mut all = of((0, 0), (0, 60));
    all.extend((0..40).map(|_| attempt(Source::Quick, false, true)));
    assert!(told(&all)[0].of_speed);
    all.truncate(65);
    let few = told(&all);
    assert!(!few[0].enough && !few[0].of_speed, "{few:?}");
    // Repeats and play-outs are not counted.
    all.iter_mut().for_each(|c| c.first = false);
    assert!(told(&all).is_empty());
}

/// A number that was kept with a try means the same ladder for ever.
#[test]
fn the_ladders_as_they_are_kept() {
    let numbers: Vec<u8> = LADDERS.iter().map(|l| l.number).collect();
    assert_eq!(numbers, [1, 2, 3, 4]);
    assert!(LadderKind::of(3).unwrap().holds(7, 4) && LadderKind::of(5).is_none());
    let builtin = crate::drill::builtin().unwrap();
    for ladder in &LADDERS {
        let held = builtin.iter().filter(|d| {
            let grade = d.grade.map(u8::from);
            grade.is_some_and(|g| ladder.holds(crate::drill::grade::needed(d), g))
        });
        let count = held.count();
        assert!(count >= 45, "ladder {}: {count}", ladder.number);
    }
}
