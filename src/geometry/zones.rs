//! Cutting the axis of a quantity at the edges of rules: which zones a reading may lie in.

use super::decide::{HALF_WIDTH, Limit, Side, Verdict, decide_between};
use crate::units::Degrees;

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
        Limit { edge: Degrees(self.edge), side }
    }
}

/// Returns one value for every zone that the cuts make, ascending.
pub fn all_zones(cuts: &[Cut]) -> Vec<Degrees> {
    let cuts = in_order(cuts);
    (0..=cuts.len()).map(|zone| Degrees(middle(&cuts, zone))).collect()
}

/// Returns the 95 % interval of a value with this standard uncertainty.
pub fn interval(value: Degrees, u: Degrees) -> [Degrees; 2] {
    [-1.0, 1.0].map(|way| Degrees(value.0 + way * HALF_WIDTH * u.0))
}

/// Returns one value for every zone that a reading's 95 % interval leaves possible, ascending;
/// the value itself stands for its own zone.
pub fn open_zones(cuts: &[Cut], value: Degrees, interval: [Degrees; 2]) -> Vec<Degrees> {
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
    (0..=cuts.len()).filter(possible).map(|zone| Degrees(stand_for(zone))).collect()
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
        Cut::at(Limit { edge: Degrees(edge), side: Side::AtLeast })
    }

    #[test]
    fn every_zone_has_a_value_inside() {
        assert_eq!(
            all_zones(&[at_least(100.0), at_least(120.0)]),
            [Degrees(99.0), Degrees(110.0), Degrees(121.0)]
        );
        let above = Cut::at(Limit { edge: Degrees(100.0), side: Side::Above });
        assert_eq!(all_zones(&[above, at_least(100.0)])[1], Degrees(100.0));
    }

    #[test]
    fn an_exact_reading_lies_in_one_zone() {
        let cuts = [at_least(100.0), at_least(120.0)];
        assert_eq!(open_zones(&cuts, Degrees(100.0), [Degrees(100.0); 2]), [Degrees(100.0)]);
    }

    #[test]
    fn a_wide_reading_leaves_its_neighbours_open() {
        let cuts = [at_least(100.0), at_least(120.0)];
        let open =
            |value, u| open_zones(&cuts, Degrees(value), interval(Degrees(value), Degrees(u)));
        assert_eq!(open(119.0, 1.0), [Degrees(119.0), Degrees(121.0)]);
        assert_eq!(open(110.0, 20.0), [Degrees(99.0), Degrees(110.0), Degrees(121.0)]);
        assert_eq!(open(150.0, 1.0), [Degrees(150.0)]);
    }

    #[test]
    fn an_interval_to_one_side_leaves_only_that_side_open() {
        let cuts = [at_least(100.0), at_least(120.0)];
        let open = |low, high| open_zones(&cuts, Degrees(110.0), [Degrees(low), Degrees(high)]);
        assert_eq!(open(110.0, 125.0), [Degrees(110.0), Degrees(121.0)]);
        assert_eq!(open(95.0, 110.0), [Degrees(99.0), Degrees(110.0)]);
    }
}
