//! From a rule book and marks to a score sheet.

use crate::{
    marks::Sheaf,
    rulebook::Book,
    sheet::{
        evidence::{
            close_calls::close_call,
            questions::{Worlds, decisive, extremes, open, worlds},
        },
        model::{CAUTION, Line, READINESS, ScoreRange, ScoreSheet, Standing, Unscored, remark},
        routine::scene::Scene,
    },
    units::Points,
};

use super::{
    close_lines,
    evaluation::{Tally, nothing, tally},
    result::beside_result,
    under,
};

/// Returns the score sheet of the routine without what would win something back, and the evaluation
/// that it shows; `said` stands among its remarks.
pub(crate) fn over_worlds(
    book: &Book,
    sheaf: &Sheaf,
    said: Vec<Line>,
) -> (ScoreSheet, Option<Tally>) {
    let scene = Scene::new(book, sheaf);
    let scoring = match Unscored::or_scoring(book, scene.event, scene.division) {
        Ok(scoring) => scoring,
        Err(unscored) => {
            let range = ScoreRange::exactly(Points::ZERO);
            return (sheet(&scene, nothing(&scene, unscored), None, range), None);
        }
    };
    let (world, questions) = open(&scene);
    let Worlds { list, all } = worlds(&world, &questions, sheaf.marks.len());
    let mut tallies: Vec<Tally> = list.iter().map(|world| tally(&scene, scoring, world)).collect();
    let scores: Vec<Option<Points>> = tallies.iter().map(Tally::counted).collect();
    let decisive = decisive(&questions, &scores, all);
    let mut shown = tallies[0].clone();
    if !all {
        let ends = extremes(&list[0], &questions, &scores);
        tallies.extend(ends.iter().map(|world| tally(&scene, scoring, world)));
        shown.remarks.push(much_is_open(&scene));
    }
    // What is void only elsewhere is added to the reasons below, so the score is taken first.
    let counted = shown.counted();
    close_lines::mark(&mut shown, &tallies);
    shown.remarks.extend(said);
    let mut sheet = sheet(&scene, shown, counted, range(&tallies));
    let decisive = questions.iter().zip(decisive).filter(|(_, changes)| *changes);
    sheet.close_calls = decisive.map(|(question, _)| close_call(&scene, question)).collect();
    (sheet, Some(tallies.swap_remove(0)))
}

fn much_is_open(scene: &Scene<'_>) -> Line {
    let said = "So much is open that not every combination was tried: the range is at least as \
                wide as shown."
        .to_owned();
    remark(("open", "Much is open"), said, scene.frames.span(), None)
}

/// Returns the score sheet without its range and without what would win something back.
///
/// It is the same sheet otherwise, in a fraction of the time.
pub fn quick(book: &Book, sheaf: &Sheaf) -> ScoreSheet {
    let scene = Scene::new(book, sheaf);
    let tally = of_scene(&scene);
    let counted = tally.counted();
    sheet(&scene, tally, counted, ScoreRange::exactly(counted.unwrap_or_default()))
}

/// Returns start value and score without range and without what would win something back.
pub(crate) fn plain(book: &Book, sheaf: &Sheaf) -> Tally {
    of_scene(&Scene::new(book, sheaf))
}

fn of_scene(scene: &Scene<'_>) -> Tally {
    let scoring = match Unscored::or_scoring(scene.book, scene.event, scene.division) {
        Ok(scoring) => scoring,
        Err(unscored) => return nothing(scene, unscored),
    };
    let (world, questions) = open(scene);
    tally(scene, scoring, &world.shown(&questions))
}

fn sheet(
    scene: &Scene<'_>,
    mut tally: Tally,
    score: Option<Points>,
    score_range: ScoreRange,
) -> ScoreSheet {
    tally.remarks.extend(out_of_date(scene));
    under::place(scene, tally.deductions.iter_mut().chain(&mut tally.void));
    let start = tally.start();
    ScoreSheet {
        standing: standing(scene),
        start_value: start,
        parts: tally.parts,
        score,
        score_range,
        void: score.is_none() && tally.unscored.is_none(),
        unscored: tally.unscored,
        void_reasons: tally.void,
        elements: tally.elements,
        value_parts: tally.value_parts,
        requirements: tally.requirements,
        deductions: tally.deductions,
        close_calls: Vec::new(),
        result: beside_result(scene.sheaf, start, score),
        plan: None,
        win_back: Vec::new(),
        readiness: READINESS,
        remarks: tally.remarks,
        caution: CAUTION,
    }
}

impl ScoreRange {
    /// Returns the range of one possible score.
    fn exactly(points: Points) -> Self {
        Self { low: points, high: points, may_be_void: false }
    }
}

fn range(tallies: &[Tally]) -> ScoreRange {
    let scores = || tallies.iter().filter_map(Tally::counted);
    ScoreRange {
        low: scores().min().unwrap_or_default(),
        high: scores().max().unwrap_or_default(),
        may_be_void: tallies.iter().any(|tally| tally.counted().is_none()),
    }
}

fn standing(scene: &Scene<'_>) -> Standing {
    let routine = &scene.sheaf.routine;
    Standing {
        book: scene.book.id.clone(),
        title: scene.book.title.clone(),
        edition: scene.book.edition.clone(),
        book_hash: scene.book.hash.clone(),
        event: routine.event.clone(),
        division: routine.division.clone(),
        athlete: routine.athlete.clone(),
        judge: routine.judge.clone(),
        date: routine.date.clone(),
    }
}

fn out_of_date(scene: &Scene<'_>) -> Option<Line> {
    let date = &scene.sheaf.routine.date;
    if scene.book.is_valid_on(date) {
        return None;
    }
    let said = format!(
        "The routine of {date} lies outside this edition, {} to {}.",
        scene.book.valid_from, scene.book.valid_to
    );
    Some(remark(("edition", "Edition not valid on that day"), said, scene.frames.span(), None))
}
