//! Which elements count, for which places of the value parts, and which are the best.

use super::{read::Row, scene::Scene};

/// Returns which elements count as value parts: with credit, and not too often the same.
pub(super) fn counting(scene: &Scene<'_>) -> Vec<usize> {
    let under = scene.under;
    let scoring = under.row("scoring");
    let often = scoring.and_then(|row| row.count("same_counts")).unwrap_or(1);
    let elsewhere = scoring.is_some_and(|row| row.text("same_again") == "other-connection");
    let id = |at: usize| scene.shown[at].counts_as.clone();
    // Which elements stand before and after.
    let beside = |at: usize| {
        let family = |at: usize| scene.shown.get(at).map(|shown| under.family(&shown.counts_as));
        (at.checked_sub(1).and_then(family), family(at + 1))
    };
    let mut counting: Vec<usize> = Vec::new();
    for at in 0..scene.shown.len() {
        let shown = &scene.shown[at];
        let has_class = under.element(&id(at)).is_some_and(|row| row.has("class"));
        if !shown.is_allowed || shown.lost[0] || !has_class {
            continue;
        }
        let same = |other: &&usize| under.family(&id(**other)) == under.family(&id(at));
        let before: Vec<&usize> = counting.iter().filter(same).collect();
        let is_other = before.iter().all(|other| beside(**other) != beside(at));
        if before.len() < often && (!elsewhere || is_other) {
            counting.push(at);
        }
    }
    counting
}

/// Returns whether an element may fill a place of a class.
pub(super) fn fills(scene: &Scene<'_>, row: Row<'_>, element: usize, class: &str) -> bool {
    let own = scene.under.element(&scene.shown[element].counts_as);
    let own = scene.under.class_place(&own.map(|row| row.text("class")).unwrap_or_default());
    let asked = scene.under.class_place(class);
    own == asked || (own > asked && row.flag("higher_replaces", true))
}

/// Returns the least that the value parts miss, over every way of filling their places.
pub(super) fn least_missing(scene: &Scene<'_>, row: Row<'_>, counting: &[usize]) -> i64 {
    let needs = row.inner("need");
    let free: Vec<usize> = needs.iter().map(|need| need.count("count").unwrap_or(0)).collect();
    place(scene, row, (&needs, counting), free)
}

fn place(
    scene: &Scene<'_>,
    row: Row<'_>,
    (needs, counting): (&[Row<'_>], &[usize]),
    free: Vec<usize>,
) -> i64 {
    let Some((first, rest)) = counting.split_first() else {
        let price = |need: &Row<'_>| need.points("price").unwrap_or(0);
        return needs.iter().zip(free).map(|(need, free)| price(need) * free as i64).sum();
    };
    let mut least = place(scene, row, (needs, rest), free.clone());
    for (at, need) in needs.iter().enumerate() {
        if free[at] > 0 && fills(scene, row, *first, &need.text("class")) {
            let mut free = free.clone();
            free[at] -= 1;
            least = least.min(place(scene, row, (needs, rest), free));
        }
    }
    least
}

/// Returns the most that the best elements come to within the limits.
pub(super) fn most_worth(scene: &Scene<'_>, scoring: Row<'_>, counting: &[usize]) -> i64 {
    let best = scoring.count("best").unwrap_or(0);
    let limits = scoring.inner("limits");
    let id = |at: usize| &scene.shown[at].counts_as;
    let fits = |set: &Vec<usize>| {
        let tagged = |limit: &Row<'_>| {
            set.iter().filter(|at| scene.under.has_tag(id(**at), &limit.names("tags"))).count()
        };
        // Places that are kept stay empty where nobody is there for them.
        let kept = limits
            .iter()
            .map(|limit| limit.count("at_least").unwrap_or(0).saturating_sub(tagged(limit)));
        limits.iter().all(|limit| limit.count("at_most").is_none_or(|most| tagged(limit) <= most))
            && set.len() + kept.sum::<usize>() <= best
    };
    let sets = (0..1_usize << counting.len()).map(|bits| -> Vec<usize> {
        let chosen = counting.iter().enumerate().filter(|(at, _)| bits >> at & 1 == 1);
        chosen.map(|(_, element)| *element).collect()
    });
    let worth = |set: Vec<usize>| set.iter().map(|at| scene.under.worth(id(*at))).sum();
    // Where fewer were shown than places are kept for, nothing fits but nothing is lost either.
    sets.filter(fits).map(worth).max().unwrap_or(0)
}
