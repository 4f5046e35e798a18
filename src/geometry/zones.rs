//! Cutting the axis of a quantity at the edges of rules: which zones a reading may lie in.

use super::decide::{HALF_WIDTH, Limit, Side, Verdict, decide_between};
use crate::units::Magnitude;

/// An edge on the axis: values at or above it (or only above it) lie in the upper zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    edge: f64,
    edge_is_upper: bool,
}

impl Cut {
    /// Returns the cut that a limit makes.
    pub fn at(limit: Limit) -> Self {
        let edge_is_upper = matches!(limit.side, Side::AtLeast | Side::Below);
        Self { edge: limit.edge.0, edge_is_upper }
    }

    fn upper(self) -> Limit {
        let side = if self.edge_is_upper { Side::AtLeast } else { Side::Above };
        Limit { edge: Magnitude(self.edge), side }
    }
}

/// Returns one value for every zone that the cuts make, ascending.
pub(crate) fn all_zones(cuts: &[Cut]) -> Vec<Magnitude> {
    let cuts = in_order(cuts);
    (0..=cuts.len()).map(|zone| Magnitude(middle(&cuts, zone))).collect()
}

/// Returns the 95 % interval of a value with this standard uncertainty.
pub fn interval(value: Magnitude, u: Magnitude) -> [Magnitude; 2] {
    [-1.0, 1.0].map(|way| Magnitude(value.0 + way * HALF_WIDTH * u.0))
}

/// Returns one value for every zone that a reading's 95 % interval leaves possible, ascending;
/// the value itself stands for its own zone.
pub(crate) fn open_zones(
    cuts: &[Cut],
    value: Magnitude,
    interval: [Magnitude; 2],
) -> Vec<Magnitude> {
    let cuts = in_order(cuts);
    let verdicts: Vec<Verdict> =
        cuts.iter().map(|cut| decide_between(value, interval, cut.upper())).collect();
    let own = cuts.iter().filter(|cut| cut.upper().holds(value)).count();
    let possible = |zone: &usize| {
        let from = *zone == 0 || verdicts[zone - 1] != Verdict::NotMet;
        let to = *zone == cuts.len() || verdicts[*zone] != Verdict::Clear;
        *zone == own || (from && to)
    };
    let stand_for = |zone: usize| if zone == own { value.0 } else { middle(&cuts, zone) };
    (0..=cuts.len()).filter(possible).map(|zone| Magnitude(stand_for(zone))).collect()
}

fn in_order(cuts: &[Cut]) -> Vec<Cut> {
    let mut cuts = cuts.to_vec();
    // At one edge, the cut just below it comes before the cut just above it.
    cuts.sort_by(|a, b| {
        a.edge.total_cmp(&b.edge).then_with(|| b.edge_is_upper.cmp(&a.edge_is_upper))
    });
    cuts.dedup();
    cuts
}

fn middle(cuts: &[Cut], zone: usize) -> f64 {
    let below = zone.checked_sub(1).and_then(|index| cuts.get(index));
    match (below, cuts.get(zone)) {
        (Some(low), Some(high)) => f64::midpoint(low.edge, high.edge),
        (Some(low), None) => low.edge + 1.0,
        (None, Some(high)) => high.edge - 1.0,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at_least(edge: f64) -> Cut {
        Cut::at(Limit { edge: Magnitude(edge), side: Side::AtLeast })
    }

    #[test]
    fn every_zone_has_a_value_inside() {
        assert_eq!(
            all_zones(&[at_least(100.0), at_least(120.0)]),
            [Magnitude(99.0), Magnitude(110.0), Magnitude(121.0)]
        );
        let above = Cut::at(Limit { edge: Magnitude(100.0), side: Side::Above });
        assert_eq!(all_zones(&[above, at_least(100.0)])[1], Magnitude(100.0));
    }

    #[test]
    fn an_exact_reading_lies_in_one_zone() {
        let cuts = [at_least(100.0), at_least(120.0)];
        assert_eq!(open_zones(&cuts, Magnitude(100.0), [Magnitude(100.0); 2]), [Magnitude(100.0)]);
    }

    #[test]
    fn a_wide_reading_leaves_its_neighbours_open() {
        let cuts = [at_least(100.0), at_least(120.0)];
        let open = |value, u| {
            open_zones(&cuts, Magnitude(value), interval(Magnitude(value), Magnitude(u)))
        };
        assert_eq!(open(119.0, 1.0), [Magnitude(119.0), Magnitude(121.0)]);
        assert_eq!(open(110.0, 20.0), [Magnitude(99.0), Magnitude(110.0), Magnitude(121.0)]);
        assert_eq!(open(150.0, 1.0), [Magnitude(150.0)]);
    }

    #[test]
    fn an_interval_to_one_side_leaves_only_that_side_open() {
        let cuts = [at_least(100.0), at_least(120.0)];
        let open =
            |low, high| open_zones(&cuts, Magnitude(110.0), [Magnitude(low), Magnitude(high)]);
        assert_eq!(open(110.0, 125.0), [Magnitude(110.0), Magnitude(121.0)]);
        assert_eq!(open(95.0, 110.0), [Magnitude(99.0), Magnitude(110.0)]);
    }
}
