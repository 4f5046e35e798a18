//! Two versions of marks become one, and nothing that was entered is lost.

use proptest::prelude::*;
use stillcall::marks::{
    At, Call, CallAnswer, Edit, History, Id, Item, Mark, Routine, Seen, Sheaf, Step, What,
    merge::{Changes, Merged, Slot, Thing, merge},
};

fn note(id: u64, of: Option<u64>, text: &str) -> Item {
    let (what, seen, of, note) = (What::Note, Seen::Yes, of.map(Id), text.to_owned());
    Item::Mark(Mark { id: Id(id), at: At::Place(id as u32), what, seen, of, note })
}

fn call(id: u64, of: u64) -> Item {
    let (asks, answer) = ("cast-angle".to_owned(), CallAnswer::Met);
    Item::Call(Call { id: Id(id), of: Id(of), asks, answer, at: At::Place(1) })
}

fn with(base: &Sheaf, edits: &[Edit]) -> Sheaf {
    let mut sheaf = base.clone();
    for edit in edits {
        edit.apply(&mut sheaf);
    }
    sheaf
}

fn change(sheaf: &Sheaf, id: u64, text: &str) -> Edit {
    let of = sheaf.mark(Id(id)).unwrap().of.map(|id| id.0);
    Edit::change(sheaf, note(id, of, text))
}

/// So many remarks that both have.
fn base(count: u64) -> Sheaf {
    let edits: Vec<Edit> =
        (1..=count).map(|id| Edit::add(note(id, None, &format!("both {id}")))).collect();
    with(&Sheaf::default(), &edits)
}

fn joined(ours: &Sheaf, changes: &Changes) -> (Sheaf, Merged) {
    let merged = merge(ours, changes, ours.highest_id()).unwrap();
    (with(ours, merged.edit.as_slice()), merged)
}

fn merged(base: &Sheaf, ours: &Sheaf, theirs: &Sheaf) -> (Sheaf, Merged) {
    joined(ours, &Changes::between(base, theirs))
}

/// What remarks say, whatever their ids are.
fn says(sheaf: &Sheaf) -> Vec<String> {
    let mut says: Vec<String> = sheaf.marks.iter().map(|mark| mark.note.clone()).collect();
    says.sort();
    says
}

#[test]
fn what_was_added_on_both_sides_is_kept_with_what_belongs_to_it() {
    let base = base(1);
    let ours = with(&base, &[Edit::add(note(2, None, "ours")), Edit::add(call(3, 2))]);
    let theirs = with(&base, &[Edit::add(note(2, None, "theirs")), Edit::add(call(3, 2))]);
    let (both, merged) = merged(&base, &ours, &theirs);
    assert!(merged.conflicts.is_empty());
    assert_eq!(says(&both), ["both 1", "ours", "theirs"]);
    let of: Vec<&str> =
        both.calls.iter().map(|call| both.mark(call.of).unwrap().note.as_str()).collect();
    assert_eq!(of, ["ours", "theirs"]);
    // What came is known again under its new name, on both computers.
    assert_eq!(joined(&both, &Changes::between(&base, &theirs)).1.edit, None);
    assert_eq!(joined(&theirs, &Changes::between(&base, &both)).0.marks.len(), 3);
}

/// Whoever looks at it sees what theirs would take the place of.
#[test]
fn what_only_they_changed_is_told_with_what_is_here() {
    let base = base(2);
    let taken_away = Edit::Item { before: base.item(Id(2)).map(Box::new), after: None };
    let theirs = with(&base, &[change(&base, 1, "theirs"), taken_away]);
    let (_, merged) = merged(&base, &base, &theirs);
    let said = |thing: &Option<Thing>| thing.as_ref().map(ToString::to_string);
    let sides: Vec<_> = merged.joined.iter().map(|it| (said(&it.ours), said(&it.theirs))).collect();
    let remark = |id: u64, text: &str| Some(format!("remark in place {}, \"{text}\"", id + 1));
    assert_eq!(sides, [(remark(1, "both 1"), remark(1, "theirs")), (remark(2, "both 2"), None)]);
}

#[test]
fn a_mark_changed_in_both_is_a_conflict_that_holds_both() {
    let base = base(2);
    let (ours, theirs) =
        (with(&base, &[change(&base, 1, "ours")]), with(&base, &[change(&base, 1, "theirs")]));
    let (both, merged) = merged(&base, &ours, &theirs);
    assert_eq!((&both, merged.edit), (&ours, None));
    let [conflict] = &merged.conflicts[..] else { panic!("{:?}", merged.conflicts) };
    assert_eq!(conflict.slot, Slot::Item(Id(1)));
    let said = |thing: &Option<Thing>| thing.as_ref().unwrap().to_string();
    assert!(said(&conflict.before).ends_with("\"both 1\""), "{}", said(&conflict.before));
    assert!(said(&conflict.ours).ends_with("\"ours\""), "{}", said(&conflict.ours));
    assert!(said(&conflict.theirs).ends_with("\"theirs\""), "{}", said(&conflict.theirs));
    let theirs_chosen = with(&both, conflict.taking_theirs(&both).as_slice());
    assert_eq!(theirs_chosen, theirs);
}

#[test]
fn deleted_here_and_changed_there_is_a_conflict_either_way() {
    let base = base(2);
    let (gone, changed) = (
        with(&base, Edit::remove(&base, Id(1)).as_slice()),
        with(&base, &[change(&base, 1, "changed")]),
    );
    for (ours, theirs) in [(&gone, &changed), (&changed, &gone)] {
        let (both, merged) = merged(&base, ours, theirs);
        assert_eq!((&both, merged.conflicts.len()), (ours, 1));
        let conflict = &merged.conflicts[0];
        assert_ne!(conflict.ours.is_some(), conflict.theirs.is_some());
        assert_eq!(with(&both, conflict.taking_theirs(&both).as_slice()), *theirs);
    }
}

#[test]
fn a_mark_is_not_taken_away_from_under_what_was_added_to_it() {
    let base = with(&base(2), &[Edit::add(call(3, 1))]);
    let gone = with(&base, Edit::remove(&base, Id(1)).as_slice());
    assert_eq!((gone.marks.len(), gone.calls.len()), (1, 0));
    let added = with(&base, &[Edit::add(call(4, 1))]);
    let (here, merged_here) = merged(&base, &added, &gone);
    assert_eq!(here, added, "the mark stays with all that hangs under it");
    assert_eq!(merged_here.conflicts.len(), 2, "{:?}", merged_here.conflicts);
    let (there, merged_there) = merged(&base, &gone, &added);
    assert_eq!(there, gone, "a call needs its mark");
    assert_eq!(merged_there.conflicts.len(), 1, "{:?}", merged_there.conflicts);
}

/// What was undone before is done again: an old id is new in these steps.
#[test]
fn a_mark_that_comes_back_makes_no_other_one_new() {
    let all = base(4);
    let gone = with(&all, Edit::remove(&all, Id(2)).as_slice());
    let steps =
        [Step::Do(Edit::add(note(2, None, "both 2"))), Step::Do(change(&gone, 4, "changed"))];
    let (after, merged) = joined(&gone, &Changes::of(&steps, 0, gone.ids()));
    assert_eq!(merged.conflicts, []);
    assert_eq!(says(&after), ["both 1", "both 2", "both 3", "changed"]);
    let ours = with(&gone, &[change(&gone, 4, "ours")]);
    let (after, merged) = joined(&ours, &Changes::of(&steps, 0, gone.ids()));
    assert_eq!(merged.conflicts.len(), 1);
    assert_eq!(merged.conflicts[0].slot, Slot::Item(Id(4)));
    assert_eq!(says(&after), ["both 1", "both 2", "both 3", "ours"]);
}

#[test]
fn keys_of_the_routine_join_one_by_one() {
    let base = Sheaf::default();
    let routine = |change: &dyn Fn(&mut Routine)| {
        let mut routine = base.routine.clone();
        change(&mut routine);
        Sheaf { routine, ..base.clone() }
    };
    let ours = routine(&|it| {
        it.date = "2026-10-17".to_owned();
        it.division = "redshank".to_owned();
        it.facts.insert("mat".to_owned(), "soft".to_owned());
    });
    let theirs = routine(&|it| {
        it.athlete = "SC-07".to_owned();
        it.division = "dunlin".to_owned();
        it.facts.insert("board".to_owned(), "hard".to_owned());
    });
    let (both, merged) = merged(&base, &ours, &theirs);
    let slots: Vec<&Slot> = merged.conflicts.iter().map(|conflict| &conflict.slot).collect();
    assert_eq!(slots, [&Slot::Routine("division".to_owned())]);
    let it = &both.routine;
    assert_eq!([&*it.date, &it.athlete, &it.division], ["2026-10-17", "SC-07", "redshank"]);
    assert_eq!([&*it.facts["mat"], &it.facts["board"]], ["soft", "hard"]);
}

#[test]
fn without_a_version_that_both_had_nothing_is_taken_away() {
    let (ours, theirs) = (base(3), with(&base(2), &[Edit::add(note(4, None, "theirs"))]));
    let theirs = with(&theirs, &[change(&theirs, 2, "other")]);
    let (both, merged) = joined(&ours, &Changes::apart(&ours, &theirs));
    assert_eq!(says(&both), ["both 1", "both 2", "both 3", "theirs"]);
    assert_eq!(merged.conflicts.len(), 1);
}

#[test]
fn marks_of_another_copy_of_the_clip_are_not_joined() {
    let of = |quick_id: &str| {
        let clip = serde_json::json!({
            "name": "a.mp4", "quick_id": quick_id, "time_base": [1, 12800],
            "upright": {
                "coded_width": 64, "coded_height": 48, "pixel": {"width": 1, "height": 1},
                "orientation": {"quarter_turns": 0, "mirrored": false},
            },
        });
        Sheaf { clip: serde_json::from_value(clip).unwrap(), ..base(1) }
    };
    let error = merge(&of("1"), &Changes::between(&of("1"), &of("2")), Id(1)).unwrap_err();
    assert!(error.to_string().contains("stillcall attach"), "{error}");
}

/// What somebody does: at a mark, counted over those that are there, or something new.
#[derive(Clone, Debug)]
enum Act {
    Change(usize),
    Remove(usize),
    Add,
    Undo,
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![
        (0..8usize).prop_map(Act::Change),
        (0..8usize).prop_map(Act::Remove),
        Just(Act::Add),
        Just(Act::Undo),
    ];
    prop::collection::vec(act, 0..12)
}

/// Carries them out on the marks that `is_own` lets it touch; returns the steps and what came out.
fn acted(base: &Sheaf, who: &str, acts: &[Act], is_own: impl Fn(Id) -> bool) -> (Vec<Step>, Sheaf) {
    let (mut sheaf, mut history, mut steps) = (base.clone(), History::default(), Vec::new());
    let mut highest = base.highest_id();
    for (turn, act) in acts.iter().enumerate() {
        let own: Vec<Id> =
            sheaf.marks.iter().map(|mark| mark.id).filter(|id| is_own(*id)).collect();
        let pick = |place: usize| own.get(place % own.len().max(1)).copied();
        let text = format!("{who} {turn}");
        let step = match act {
            Act::Undo => Some(Step::Undo),
            Act::Change(place) => pick(*place).map(|id| Step::Do(change(&sheaf, id.0, &text))),
            Act::Remove(place) => {
                pick(*place).and_then(|id| Edit::remove(&sheaf, id)).map(Step::Do)
            }
            Act::Add => {
                highest = Id(highest.0 + 1);
                Some(Step::Do(Edit::add(note(highest.0, None, &text))))
            }
        };
        if let Some(step) = step
            && history.take(step.clone(), &mut sheaf)
        {
            steps.push(step);
        }
    }
    (steps, sheaf)
}

proptest! {
    /// Each side touches its own half of what both had: everything joins, whichever side is ours,
    /// and from the steps as from the marks.
    #[test]
    fn independent_edits_are_all_there_whichever_comes_first(one in acts(), other in acts()) {
        let base = base(6);
        // What is new has a higher id, and each side its own of them.
        let (_, first) = acted(&base, "first", &one, |id| id.0 % 2 == 0 || id.0 > 6);
        let (steps, second) = acted(&base, "second", &other, |id| id.0 % 2 == 1 || id.0 > 6);
        let untouched = |sheaf: &Sheaf, rest: u64| -> Vec<String> {
            let own = sheaf.marks.iter().filter(|mark| mark.id.0 > 6 || mark.id.0 % 2 == rest);
            own.map(|mark| mark.note.clone()).collect()
        };
        let mut expected = untouched(&first, 0);
        expected.extend(untouched(&second, 1));
        expected.sort();
        let (both, told) = merged(&base, &first, &second);
        prop_assert_eq!(told.conflicts, []);
        prop_assert_eq!(says(&both), expected.clone());
        let (both, told) = merged(&base, &second, &first);
        prop_assert_eq!(told.conflicts, []);
        prop_assert_eq!(says(&both), expected.clone());
        let (both, told) = joined(&first, &Changes::of(&steps, 0, base.ids()));
        prop_assert_eq!(told.conflicts, []);
        prop_assert_eq!(says(&both), expected);
    }

    /// Two who did the same did it once.
    #[test]
    fn identical_edits_give_one(acts in acts()) {
        let base = base(6);
        let (steps, both) = acted(&base, "both", &acts, |_| true);
        for changes in [Changes::between(&base, &both), Changes::of(&steps, 0, base.ids())] {
            prop_assert_eq!(merge(&both, &changes, both.highest_id()).unwrap(), Merged::default());
        }
    }

    /// Whatever two people do: what is ours stays unless it was left alone here and changed there,
    /// and what is theirs is joined or in a conflict. Taking their side of every conflict, one
    /// after the other, leaves none.
    #[test]
    fn nothing_that_was_entered_is_lost(one in acts(), other in acts()) {
        let base = base(5);
        let (_, ours) = acted(&base, "ours", &one, |_| true);
        let (_, theirs) = acted(&base, "theirs", &other, |_| true);
        let changes = Changes::between(&base, &theirs);
        let (mut both, told) = merged(&base, &ours, &theirs);
        for mark in &ours.marks {
            let was_left_alone = base.mark(mark.id) == Some(mark);
            let stays = both.mark(mark.id) == Some(mark);
            prop_assert!(stays || was_left_alone, "{mark:?}");
        }
        let said: Vec<String> = told.conflicts.iter().flat_map(|conflict| &conflict.theirs)
            .map(Thing::to_string).collect();
        for mark in theirs.marks.iter().filter(|mark| base.mark(mark.id) != Some(*mark)) {
            let is_in_conflict = said.iter().any(|said| said.contains(&mark.note));
            prop_assert!(says(&both).contains(&mark.note) || is_in_conflict, "{mark:?}");
        }
        for conflict in &told.conflicts {
            prop_assert!(conflict.ours != conflict.theirs);
            conflict.taking_theirs(&both).unwrap().apply(&mut both);
        }
        let (_, again) = joined(&both, &changes);
        prop_assert_eq!(again.conflicts, []);
    }
}
