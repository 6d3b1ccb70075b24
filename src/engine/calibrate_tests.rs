//! Fits of made-up results, whose law is known.

use super::*;

/// Games whose results follow a known curve: the fit finds it again, and holds on other games.
fn made_up(truth: &Curve, games: usize, rated: bool) -> Vec<Case> {
    let mut seed = 1;
    let mut chance = || {
        seed = super::super::keys::mix(seed);
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    (0..games)
        .map(|game| {
            let (score, phase) = (1600.0 * chance() - 800.0, chance());
            let rating = if rated { 6.0 * chance() - 3.0 } else { 0.0 };
            let (win, loss) = truth.chances_ahead(score, phase, 40.0 * rating);
            let roll = chance();
            let points = if roll < win {
                2
            } else if roll < win + loss {
                0
            } else {
                1
            };
            Case {
                score,
                phase,
                rating,
                points,
                game,
                weight: 1.0,
            }
        })
        .collect()
}

#[test]
fn finds_the_curve_that_made_the_results() {
    let truth = Curve([90.0, -30.0, 50.0, 40.0, 3000.0]);
    let cases = made_up(&truth, 4_000, false);
    let model = fit(&cases, &Model::CURVE);
    let truly = Model {
        curve: truth,
        ..model
    };
    assert!(loss(&cases, &model) <= loss(&cases, &truly));
    let fitted = model.curve;
    for (score, phase) in [(0.0, 0.5), (150.0, 0.2), (-300.0, 0.9), (600.0, 0.5)] {
        let (a, b) = (truth.chances(score, phase), fitted.chances(score, phase));
        assert!(
            (a.0 - b.0).abs() < 0.04 && (a.1 - b.1).abs() < 0.04,
            "{score}"
        );
    }
}

/// Who is better rated makes more of the same score: the term takes that, and the curve is that of equals.
#[test]
fn what_the_better_player_makes_is_not_the_scores() {
    let truth = Curve([90.0, -30.0, 50.0, 40.0, 3000.0]);
    let cases = made_up(&truth, 4_000, true);
    let model = fit(&cases, &Model::ALL);
    let [base, more] = model.rating;
    assert!((base + more / 2.0 - 40.0).abs() < 5.0, "{base} {more}");
    for (score, phase) in [(150.0, 0.2), (-300.0, 0.9), (600.0, 0.5)] {
        let (a, b) = (
            truth.chances(score, phase),
            model.curve.chances(score, phase),
        );
        assert!(
            (a.0 - b.0).abs() < 0.05 && (a.1 - b.1).abs() < 0.05,
            "{score}"
        );
    }
    assert!(loss(&cases, &model) < loss(&cases, &fit(&cases, &Model::CURVE)));
}

/// Worked by hand: one half expects a win that comes, the other a draw that is lost or won.
#[test]
fn brier_score_and_its_parts() {
    let sure = |score, points, game| Case {
        score,
        phase: 0.0,
        rating: 0.0,
        points,
        game,
        weight: 1.0,
    };
    let model = Model {
        curve: Curve([100.0, 0.0, 1.0, 0.0, 1e12]),
        rating: [0.0; 2],
    };
    let cases = [
        sure(5000.0, 2, 0),
        sure(5000.0, 2, 1),
        sure(0.0, 0, 2),
        sure(0.0, 2, 2),
    ];
    let text = reliability(&cases.map(|case| (case, model)));
    insta::assert_snapshot!(text, @r"
    | expected | made | off | positions | games |
    | --- | --- | --- | --- | --- |
    | 0.500 | 0.500 | +0.000 | 2 | 1 |
    | 1.000 | 1.000 | +0.000 | 2 | 2 |

    Brier score 0.1250: reliability 0.0000, resolution 0.0625, uncertainty 0.1875
    (the parts leave out the spread within a tenth).
    ");
}

#[test]
fn too_few_games_are_refused() {
    let error = calibrate(&[], 1, Source::Games).unwrap_err();
    insta::assert_snapshot!(error, @"0 games are too few to fit a curve and to hold some out; 40 are the least, some thousands the aim");
}

/// Worked by hand: of the long game's three wins and the short one's loss each half counts.
#[test]
fn a_long_game_counts_no_more_than_a_short_one() {
    let case = |points, game| Case {
        score: 0.0,
        phase: 0.0,
        rating: 0.0,
        points,
        game,
        weight: 1.0,
    };
    let mut cases = [case(2, 0), case(2, 0), case(2, 0), case(0, 1)];
    weigh_games_alike(&mut cases);
    let text = reliability(&cases.map(|c| (c, Model::FITTED)));
    assert!(
        text.contains("| 0.500 | 0.500 | +0.000 | 4 | 2 |"),
        "{text}"
    );
}
