//! Which elements may serve a requirement, and who serves what so that the least is missing.

use super::{angles, follow::follows, read::Row, scene::Scene};

/// Elements by their places in the routine.
pub(super) type Set = Vec<usize>;

/// Returns every set of elements that serves the requirement, the empty one too. One that is not
/// full serves only where each missing element costs the price.
pub(super) fn ways(scene: &Scene<'_>, row: Row<'_>) -> Vec<Set> {
    let count = row.count("count").unwrap_or(1);
    let mut ways: Vec<Set> = Vec::new();
    for bits in 0..1_usize << scene.shown.len() {
        let set: Set = (0..scene.shown.len()).filter(|at| bits >> at & 1 == 1).collect();
        let is_enough = set.len() == count || row.flag("each", false) || set.is_empty();
        if set.len() <= count && is_enough && serves(scene, row, &set) {
            ways.push(set);
        }
    }
    ways
}

/// What is missing costs.
pub(super) fn missing(row: Row<'_>, set: &Set) -> i64 {
    let count = row.count("count").unwrap_or(1);
    let price = row.points("price").unwrap_or(0);
    let missing = count - set.len();
    price * if row.flag("each", false) { missing as i64 } else { i64::from(missing > 0) }
}

fn serves(scene: &Scene<'_>, row: Row<'_>, set: &Set) -> bool {
    let under = scene.under;
    let count = row.count("count").unwrap_or(1);
    let id = |at: &usize| &scene.shown[*at].counts_as;
    let fits = |at: &usize| {
        let shown = &scene.shown[*at];
        let class = under.element(id(at)).map(|row| row.text("class")).unwrap_or_default();
        let is_named = row.names("elements").contains(id(at));
        let classes = row.names("classes");
        (is_named || under.has_tag(id(at), &row.names("tags")))
            && (classes.is_empty() || classes.contains(&class))
            && !under.has_tag(id(at), &row.names("except"))
            && shown.is_allowed
            && !shown.lost[1]
    };
    let family = |at: &usize| under.family(id(at));
    let is_distinct =
        set.iter().all(|at| set.iter().filter(|b| family(b) == family(at)).count() == 1);
    let place = match row.text("place").as_str() {
        "first" => Some(0),
        "last" => Some(scene.shown.len().wrapping_sub(1)),
        _ => None,
    };
    set.iter().all(fits)
        && (!row.flag("distinct", true) || is_distinct)
        && place.is_none_or(|place| set.iter().all(|at| *at == place))
        && (!row.flag("each_tag", false) || shows_tags(scene, &row.names("tags"), set))
        && (!row.flag("connected", false) || is_series(scene, row, set))
        && asks(scene, row, set, count)
}

/// Each of the tags counts once: each element shows one that no other shows.
fn shows_tags(scene: &Scene<'_>, tags: &[String], set: &[usize]) -> bool {
    let Some((first, rest)) = set.split_first() else { return true };
    tags.iter().any(|tag| {
        let others: Vec<String> = tags.iter().filter(|other| *other != tag).cloned().collect();
        scene.under.tags(&scene.shown[*first].counts_as).contains(tag)
            && shows_tags(scene, &others, rest)
    })
}

fn is_series(scene: &Scene<'_>, row: Row<'_>, set: &Set) -> bool {
    let has =
        |at: &usize, key: &str| scene.under.has_tag(&scene.shown[*at].counts_as, &row.names(key));
    set.windows(2).all(|pair| follows(scene, row, pair[0], pair[1]))
        && set.iter().skip(1).all(|at| !has(at, "only_first"))
        && set.iter().rev().skip(1).all(|at| !has(at, "only_last"))
}

/// `asks` holds for all, or with `with` for the one of that tag which a full set must have.
fn asks(scene: &Scene<'_>, row: Row<'_>, set: &Set, count: usize) -> bool {
    let asked = row.names("asks");
    let meets = |at: &usize| {
        angles::asked(scene, *at)
            .into_iter()
            .filter(|rule| asked.contains(&rule.text("id")))
            .all(|rule| angles::is_met(scene, *at, rule))
    };
    let with = row.names("with");
    if with.is_empty() {
        return set.iter().all(meets);
    }
    let is_one = |at: &usize| scene.under.has_tag(&scene.shown[*at].counts_as, &with) && meets(at);
    set.len() < count || set.iter().any(is_one)
}

/// Whether sets that serve these requirements may do so beside one another.
pub(super) fn agree(scene: &Scene<'_>, rows: &[Row<'_>], sets: &[&Set]) -> bool {
    let is_one = scene.under.row("scoring").is_some_and(|row| row.text("sharing") == "one");
    let families = |set: &Set| -> Vec<String> {
        set.iter().map(|at| scene.under.family(&scene.shown[*at].counts_as)).collect()
    };
    (0..sets.len()).all(|a| {
        (0..sets.len()).filter(|b| *b != a).all(|b| {
            let is_apart = rows[a].names("apart_from").contains(&rows[b].text("id"));
            let (one, other) = (sets[a], sets[b]);
            let shares = one.iter().any(|at| other.contains(at));
            let is_same = !one.is_empty() && families(one) == families(other);
            !((is_one || is_apart) && shares) && !(is_apart && is_same)
        })
    })
}

/// Returns the least that is missing over all ways of serving all requirements.
pub(super) fn least_missing(scene: &Scene<'_>, rows: &[Row<'_>]) -> i64 {
    let ways: Vec<Vec<Set>> = rows.iter().map(|row| ways(scene, *row)).collect();
    least(scene, rows, &ways, &mut Vec::new())
}

fn least<'w>(
    scene: &Scene<'_>,
    rows: &[Row<'_>],
    ways: &'w [Vec<Set>],
    chosen: &mut Vec<&'w Set>,
) -> i64 {
    let at = chosen.len();
    let Some(own) = ways.get(at) else { return 0 };
    let mut least_yet = i64::MAX;
    for set in own {
        chosen.push(set);
        if agree(scene, &rows[..=at], chosen) {
            let missing = missing(rows[at], set) + least(scene, rows, ways, chosen);
            least_yet = least_yet.min(missing);
        }
        chosen.pop();
    }
    least_yet
}
