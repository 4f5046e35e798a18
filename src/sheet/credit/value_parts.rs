//! Value parts: which elements fill which places, and what the empty ones cost.

use crate::{
    rulebook::ValueParts,
    sheet::{
        model::{Status, ValuePart},
        routine::scene::Scene,
    },
    units::Points,
};

use super::{
    earned::Earned,
    matching::{Offer, dearest, fill},
};

/// The value parts of a routine.
#[derive(Default)]
pub(crate) struct Parts {
    /// Class by class.
    pub lines: Vec<ValuePart>,
    /// For each act the class whose place it fills.
    pub fills: Vec<Option<String>>,
    /// What is missing costs together.
    pub missing: Points,
}

/// Returns the value parts under the book's rule.
pub(crate) fn parts(scene: &Scene<'_>, earned: &[Earned<'_>], rule: Option<&ValueParts>) -> Parts {
    let mut parts = Parts { fills: vec![None; earned.len()], ..Parts::default() };
    let Some(rule) = rule else { return parts };
    let offers: Vec<Vec<Offer>> = earned.iter().map(|earned| offers(scene, earned, rule)).collect();
    let asked: Vec<u32> = rule.need.iter().map(|need| need.count).collect();
    let worth: Vec<i64> = rule.need.iter().map(|need| need.price.0).collect();
    let placed = fill(&dearest(&asked, &worth, &offers), &offers);
    let need_of = |act: usize| placed[act].map(|offer| offer.want);
    for (act, fills) in parts.fills.iter_mut().enumerate() {
        *fills = need_of(act).map(|need| rule.need[need].class.clone());
    }
    for need in 0..rule.need.len() {
        let acts: Vec<usize> = (0..earned.len()).filter(|a| need_of(*a) == Some(need)).collect();
        parts.lines.push(line(scene, rule, need, &acts));
    }
    parts.missing = parts.lines.iter().map(|line| line.amount).sum();
    parts
}

/// Returns the classes whose places the element may fill, its own before lower ones.
fn offers(scene: &Scene<'_>, earned: &Earned<'_>, rule: &ValueParts) -> Vec<Offer> {
    let Some(element) = earned.element.filter(|_| earned.part) else { return Vec::new() };
    let class = element.class_in(scene.division);
    let own = |want: &usize| rule.need[*want].class == class;
    let rank = |class: &str| scene.book.rank(class);
    let lower = |want: &usize| !own(want) && rule.takes(rank(class), rank(&rule.need[*want].class));
    let wants = || 0..rule.need.len();
    let all = wants().filter(own).chain(wants().filter(lower));
    all.map(|want| Offer { want, alike: None }).collect()
}

fn line(scene: &Scene<'_>, rule: &ValueParts, need: usize, acts: &[usize]) -> ValuePart {
    let need = &rule.need[need];
    let shown = acts.len() as u32;
    let missing = need.count.saturating_sub(shown);
    let label = scene.book.class(&need.class).map_or(&need.class, |class| &class.name).clone();
    let marks = || acts.iter().map(|act| scene.acts[*act].mark);
    ValuePart {
        class: need.class.clone(),
        asked: need.count,
        shown,
        amount: need.price.times(i64::from(missing)),
        status: if missing == 0 { Status::Met } else { Status::Missed },
        marks: marks().map(|mark| mark.id).collect(),
        frames: match missing {
            0 => marks().flat_map(|mark| scene.frames.at(&mark.at)).collect(),
            _ => scene.frames.span(),
        },
        reason: said(need.count, shown, need.price),
        page: rule.page.clone(),
        label,
    }
}

/// Says how many of those asked for are there, and what each of the others costs.
fn said(asked: u32, shown: u32, price: Points) -> String {
    let price = price.short();
    match (asked, asked.saturating_sub(shown)) {
        (0, _) => "None is asked for.".to_owned(),
        (1, 0) => "It is there.".to_owned(),
        (1, _) => format!("It is missing, which costs {price}."),
        (2, 0) => "Both are there.".to_owned(),
        (_, 0) => format!("All {asked} are there."),
        (_, missing) => {
            let there = match shown {
                0 => format!("None of {asked} is there"),
                1 => format!("1 of {asked} is there"),
                _ => format!("{shown} of {asked} are there"),
            };
            let costs = if missing == 1 {
                format!("the missing one costs {price}")
            } else {
                format!("the {missing} missing cost {price} each")
            };
            format!("{there}; {costs}.")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_two_and_many_are_said_as_a_person_would() {
        let words = |asked, shown| said(asked, shown, Points(500));
        assert_eq!(words(1, 1), "It is there.");
        assert_eq!(words(1, 0), "It is missing, which costs 0.5.");
        assert_eq!(words(2, 2), "Both are there.");
        assert_eq!(words(5, 5), "All 5 are there.");
        assert_eq!(words(5, 4), "4 of 5 are there; the missing one costs 0.5.");
        assert_eq!(words(5, 1), "1 of 5 is there; the 4 missing cost 0.5 each.");
        assert_eq!(words(5, 0), "None of 5 is there; the 5 missing cost 0.5 each.");
    }
}
