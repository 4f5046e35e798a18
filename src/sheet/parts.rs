//! Value parts: which elements fill which places, and what the empty ones cost.

use crate::{rulebook::ValueParts, units::Points};

use super::{
    assign::assign,
    credit::Earned,
    model::{Status, ValuePart},
    scene::Scene,
};

/// The value parts of a routine.
#[derive(Default)]
pub struct Parts {
    /// Class by class.
    pub lines: Vec<ValuePart>,
    /// For each act the class whose place it fills.
    pub fills: Vec<Option<String>>,
    /// What is missing costs together.
    pub missing: Points,
}

/// Returns the value parts under the book's rule.
pub fn parts(scene: &Scene<'_>, earned: &[Earned<'_>], rule: Option<&ValueParts>) -> Parts {
    let mut parts = Parts { fills: vec![None; earned.len()], ..Parts::default() };
    let Some(rule) = rule else { return parts };
    let places: Vec<usize> = (0..rule.need.len())
        .flat_map(|need| std::iter::repeat_n(need, rule.need[need].count as usize))
        .collect();
    let fits: Vec<Vec<bool>> = places
        .iter()
        .map(|need| {
            let class = &rule.need[*need].class;
            earned.iter().map(|earned| fits(scene, earned, class, rule)).collect()
        })
        .collect();
    let worth: Vec<i64> = places.iter().map(|need| rule.need[*need].price.0).collect();
    let filled = assign(&fits, &worth);
    for (place, act) in filled.iter().enumerate() {
        if let Some(act) = act {
            parts.fills[*act] = Some(rule.need[places[place]].class.clone());
        }
    }
    for need in 0..rule.need.len() {
        let acts: Vec<usize> = (0..places.len())
            .filter(|place| places[*place] == need)
            .filter_map(|place| filled[place])
            .collect();
        parts.lines.push(line(scene, rule, need, acts));
    }
    parts.missing = parts.lines.iter().map(|line| line.amount).sum();
    parts
}

fn fits(scene: &Scene<'_>, earned: &Earned<'_>, class: &str, rule: &ValueParts) -> bool {
    let Some(element) = earned.element.filter(|_| earned.part) else { return false };
    if element.class == class {
        return true;
    }
    let ranks = (scene.book.rank(&element.class), scene.book.rank(class));
    rule.higher_replaces && matches!(ranks, (Some(is), Some(asked)) if is > asked)
}

fn line(scene: &Scene<'_>, rule: &ValueParts, need: usize, mut acts: Vec<usize>) -> ValuePart {
    acts.sort_unstable();
    let need = &rule.need[need];
    let shown = acts.len() as u32;
    let missing = need.count.saturating_sub(shown);
    let label = scene.book.class(&need.class).map_or(&need.class, |class| &class.name).clone();
    ValuePart {
        class: need.class.clone(),
        asked: need.count,
        shown,
        amount: need.price.times(i64::from(missing)),
        status: if missing == 0 { Status::Met } else { Status::Missed },
        marks: acts.iter().map(|act| scene.acts[*act].mark.id).collect(),
        reason: match missing {
            0 => format!("All {} are there.", need.count),
            _ => format!(
                "{shown} of {} are there; {missing} missing at {} each.",
                need.count,
                need.price.short()
            ),
        },
        label,
    }
}
