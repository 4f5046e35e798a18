//! How judges' scores and attempts become one, at every edge. The amounts are invented and worked
//! out by hand.

use stillcall::{
    rulebook::{Allowed, Attempts, Beyond, Combine, Panel, Rounding, Scope, Take},
    sheet::{Combined, attempts, beside_reference, combine},
    units::Points,
};

/// A panel of any event that cuts after three decimals.
fn panel(how: Combine, beyond: Beyond) -> Panel {
    let allowed = [(0, 500), (9_000, 200)]
        .map(|(from, difference)| Allowed { from: Points(from), difference: Points(difference) });
    Panel {
        parts: Vec::new(),
        scope: Scope::default(),
        combine: how,
        digits: 3,
        rounding: Rounding::Cut,
        allowed: allowed.to_vec(),
        beyond,
    }
}

fn of(panel: &Panel, scores: &[i64]) -> Combined {
    let scores: Vec<_> = scores.iter().map(|score| Some(Points(*score))).collect();
    combine(panel, &scores)
}

fn score(points: i64) -> Combined {
    Combined::Score { score: Points(points) }
}

#[test]
fn without_enough_scores_nothing_comes_of_them() {
    let middle = panel(Combine::Middle(3), Beyond::Confer);
    let ends = panel(Combine::DropEnds, Beyond::Confer);
    let mean = panel(Combine::Mean, Beyond::MeanOfAll);
    for panel in [&middle, &ends, &mean] {
        assert_eq!(of(panel, &[]), Combined::TooFew);
    }
    assert_eq!(of(&mean, &[8_000]), score(8_000));
    assert_eq!(of(&ends, &[8_000, 8_200]), Combined::TooFew);
    assert_eq!(of(&ends, &[8_000, 8_300, 8_200]), score(8_200));
    assert_eq!(of(&middle, &[8_000, 8_100]), Combined::TooFew);
    assert_eq!(of(&middle, &[8_000, 8_100, 8_200]), score(8_100));
    // Of four no three lie in the middle.
    assert_eq!(of(&middle, &[8_000, 8_100, 8_200, 8_300]), Combined::TooFew);
    // The middle of five is (8.2 + 8.3 + 8.4) / 3, in whatever order they come.
    assert_eq!(of(&middle, &[8_400, 5_000, 8_200, 9_900, 8_300]), score(8_300));
}

#[test]
fn void_is_agreed_on_or_disputed() {
    let mean = panel(Combine::Mean, Beyond::Confer);
    assert_eq!(combine(&mean, &[None, None]), Combined::Void);
    let disputed = Combined::VoidDisputed { void: 1, scored: 2 };
    assert_eq!(combine(&mean, &[Some(Points(8_000)), None, Some(Points(8_100))]), disputed);
}

#[test]
fn what_is_allowed_is_allowed_to_the_last_thousandth() {
    let confer = panel(Combine::Mean, Beyond::Confer);
    let apart = |average, difference, allowed| {
        let [average, difference, allowed] = [average, difference, allowed].map(Points);
        Combined::TooFarApart { average, difference, allowed }
    };
    // 0.5 below an average of 9.0, 0.2 from there on.
    assert_eq!(of(&confer, &[8_000, 8_500]), score(8_250));
    assert_eq!(of(&confer, &[8_000, 8_502]), apart(8_251, 502, 500));
    assert_eq!(of(&confer, &[8_798, 9_198]), score(8_998));
    assert_eq!(of(&confer, &[8_800, 9_200]), apart(9_000, 400, 200));
    assert_eq!(of(&confer, &[8_900, 9_100]), score(9_000));
    // Nothing is allowed for below the first step, so that nothing is too far apart.
    let mut from_nine = confer.clone();
    from_nine.allowed.remove(0);
    assert_eq!(of(&from_nine, &[1_000, 9_000]), score(5_000));
    // The mean of all takes in what was dropped: (7.0 + 8.0 + 8.6 + 9.2) / 4.
    let ends = panel(Combine::DropEnds, Beyond::MeanOfAll);
    assert_eq!(of(&ends, &[7_000, 8_000, 8_600, 9_200]), score(8_200));
    assert_eq!(of(&ends, &[7_000, 8_000, 8_500, 9_200]), score(8_250));
}

#[test]
fn a_panel_is_held_against_its_reference_to_either_side() {
    let average = panel(Combine::Mean, Beyond::Average);
    let beside = |panel: &Panel, score| beside_reference(panel, Points(score), Points(8_000));
    assert_eq!(beside(&average, 8_500), score(8_500));
    assert_eq!(beside(&average, 7_500), score(7_500));
    assert_eq!(beside(&average, 8_502), score(8_251));
    assert_eq!(beside(&average, 7_498), score(7_749));
    let apart = Combined::TooFarApart {
        average: Points(8_300),
        difference: Points(600),
        allowed: Points(500),
    };
    for beyond in [Beyond::Confer, Beyond::MeanOfAll] {
        assert_eq!(beside(&panel(Combine::Mean, beyond), 8_600), apart);
    }
    // What is allowed is looked up at the reference, not at the mean of both.
    assert_eq!(beside_reference(&average, Points(8_900), Points(9_150)), score(9_025));
    assert_eq!(beside_reference(&average, Points(9_150), Points(8_900)), score(9_150));
}

#[test]
fn decimals_are_cut_or_taken_to_the_nearest() {
    // The exact means are 9.2265 and 9.25.
    for (digits, cut, nearest) in
        [(3, 9_226, 9_227), (2, 9_220, 9_230), (1, 9_200, 9_200), (0, 9_000, 9_000)]
    {
        let cuts = Panel { digits, ..panel(Combine::Mean, Beyond::Confer) };
        let nears = Panel { rounding: Rounding::Nearest, ..cuts.clone() };
        assert_eq!(of(&cuts, &[9_201, 9_252]), score(cut), "{digits}");
        assert_eq!(of(&nears, &[9_201, 9_252]), score(nearest), "{digits}");
    }
    let tenths =
        Panel { digits: 1, rounding: Rounding::Nearest, ..panel(Combine::Mean, Beyond::Confer) };
    assert_eq!(of(&tenths, &[9_200, 9_300]), score(9_300));
    assert_eq!(of(&tenths, &[9_200, 9_298]), score(9_200));
}

#[test]
fn a_void_attempt_counts_nothing_in_a_sum_and_a_mean() {
    let rule = |take| Attempts {
        scope: Scope::default(),
        take,
        digits: 3,
        rounding: Rounding::Cut,
        unlike_adds: None,
    };
    let one_void = [None, Some(Points(9_001))];
    assert_eq!(attempts(&rule(Take::Mean), &one_void), Some(Points(4_500)));
    assert_eq!(attempts(&rule(Take::Sum), &one_void), Some(Points(9_001)));
    assert_eq!(attempts(&rule(Take::Best), &one_void), Some(Points(9_001)));
    assert_eq!(
        attempts(&rule(Take::Sum), &[Some(Points(4_000)), Some(Points(5_000))]),
        Some(Points(9_000))
    );
    for take in [Take::Mean, Take::Sum, Take::Best] {
        assert_eq!(attempts(&rule(take), &[None, None]), None);
        assert_eq!(attempts(&rule(take), &[]), None);
    }
}
