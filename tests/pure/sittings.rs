//! The sitting as a state machine, and its file.

use std::{fs, thread, time::Duration};

use proptest::{prelude::*, sample::select};
use stillcall::practice::{
    set::{Answer, Ask},
    sitting::{
        Begun, Effect, Given, Mode, Record, Refused, Sitting, SittingError, SittingEvent,
        SittingFile, SittingStage, files_of, go_on_or_begin, path_for, plan, read, results,
    },
};
use stillcall::units::Points;

use crate::sets::{FIRST, first};

fn begun(looks: &[&str]) -> Begun {
    Begun {
        set: "bars-first".into(),
        set_hash: String::new(),
        person: "J-2".into(),
        date: "2026-11-24".into(),
        mode: Mode::Person,
        looks: looks.iter().map(|look| (*look).to_owned()).collect(),
    }
}

fn sat(looks: &[&str], records: &[Record]) -> Sitting {
    let looks: Vec<String> = looks.iter().map(|look| (*look).to_owned()).collect();
    Sitting::new(&first(), Mode::Person, &looks, records)
}

#[allow(clippy::unnecessary_wraps, reason = "answers may be missing, so that is what all take")]
fn word(word: &str) -> Option<Answer> {
    Some(Answer::Word(word.to_owned()))
}

#[allow(clippy::unnecessary_wraps, reason = "as above")]
fn points(thousandths: i64) -> Option<Answer> {
    Some(Answer::Points(Points(thousandths)))
}

/// Takes events one after the other and returns what was written on the way.
fn play(sitting: &mut Sitting, events: Vec<SittingEvent>) -> Vec<Record> {
    let mut records = Vec::new();
    for event in events {
        for effect in sitting.take(event).unwrap() {
            if let Effect::Write(record) = effect {
                records.push(record);
            }
        }
    }
    records
}

#[test]
fn one_look_then_answers_then_disk_then_still() {
    let mut sitting = sat(&["cast"], &[]);
    assert_eq!(
        sitting.take(SittingEvent::Ready).unwrap(),
        [Effect::Write(Record::Looked { look: "cast".into() })]
    );
    assert_eq!(*sitting.stage(), SittingStage::Opening, "nothing plays before the disk has it");
    assert_eq!(sitting.take(SittingEvent::Written).unwrap(), [Effect::Play]);
    // Answers while it runs; no second look, no still.
    sitting.take(SittingEvent::Typed(1, word("yes"))).unwrap();
    assert_eq!(
        sitting.take(SittingEvent::Ready),
        Err(Refused::OutOfTurn("watch the look to its end first"))
    );
    assert_eq!(
        sitting.take(SittingEvent::Next),
        Err(Refused::OutOfTurn("watch the look to its end first"))
    );
    // The start value before the score.
    assert_eq!(sitting.take(SittingEvent::Typed(2, points(9400))), Err(Refused::StartValueFirst));
    sitting.take(SittingEvent::LookEnded { dropped: 3, now_ms: 1000 }).unwrap();
    sitting.take(SittingEvent::Typed(0, points(9800))).unwrap();
    sitting.take(SittingEvent::Typed(2, points(9400))).unwrap();
    assert_eq!(sitting.take(SittingEvent::Typed(0, None)), Err(Refused::StartValueFirst));
    let written = play(&mut sitting, vec![SittingEvent::HandedIn]);
    let [Record::Answered { answers, dropped: 3, time_up: false, interrupted: false, .. }] =
        &written[..]
    else {
        panic!("{written:?}")
    };
    assert_eq!(answers[1], Given { question: "2".into(), answer: word("yes") });
    assert_eq!(
        *sitting.stage(),
        SittingStage::Writing { time_up: false },
        "no still before the disk has it"
    );
    assert_eq!(sitting.take(SittingEvent::Typed(1, word("no"))), Err(Refused::HandedIn));
    // A full disk: the same is tried again, and still nothing is shown.
    assert_eq!(play(&mut sitting, vec![SittingEvent::NotWritten]), written);
    assert_eq!(*sitting.stage(), SittingStage::Writing { time_up: false });
    sitting.take(SittingEvent::Written).unwrap();
    assert_eq!(*sitting.stage(), SittingStage::Still(0));
    assert_eq!(sitting.take(SittingEvent::Typed(1, word("no"))), Err(Refused::HandedIn));
}

#[test]
fn in_stages_the_second_answer_is_kept_apart() {
    let mut sitting = sat(&["close"], &[]);
    let start = vec![
        SittingEvent::Ready,
        SittingEvent::Written,
        SittingEvent::LookEnded { dropped: 0, now_ms: 0 },
        SittingEvent::Typed(0, word("broken")),
        SittingEvent::HandedIn,
        SittingEvent::Written,
        SittingEvent::TypedAfter(word("connected")),
        SittingEvent::Next,
    ];
    let written = play(&mut sitting, start);
    let after = Given { question: "1".into(), answer: word("connected") };
    assert_eq!(written[2], Record::After { look: "close".into(), given: after });
    assert_eq!(sitting.answers(), [word("broken")], "the first answer stays");
    assert_eq!(*sitting.stage(), SittingStage::Keeping(0));
    play(&mut sitting, vec![SittingEvent::Written]);
    assert_eq!(*sitting.stage(), SittingStage::Line(0));
    play(&mut sitting, vec![SittingEvent::Next]);
    assert_eq!(*sitting.stage(), SittingStage::Reference(0));
    play(&mut sitting, vec![SittingEvent::Next]);
    assert_eq!(*sitting.stage(), SittingStage::Done);
    assert_eq!(sitting.take(SittingEvent::Ready), Err(Refused::OutOfTurn("every look is done")));
}

#[test]
fn when_the_time_is_up_what_is_there_is_handed_in() {
    let mut sitting = sat(&["cast"], &[]);
    play(
        &mut sitting,
        vec![SittingEvent::Ready, SittingEvent::Written, SittingEvent::Typed(1, word("no"))],
    );
    play(&mut sitting, vec![SittingEvent::LookEnded { dropped: 0, now_ms: 5_000 }]);
    // The set gives 20 seconds.
    assert_eq!(sitting.left_ms(5_500), Some(19_500));
    assert!(play(&mut sitting, vec![SittingEvent::Tick { now_ms: 24_999 }]).is_empty());
    let written = play(&mut sitting, vec![SittingEvent::Tick { now_ms: 25_000 }]);
    let [Record::Answered { answers, time_up: true, .. }] = &written[..] else {
        panic!("{written:?}")
    };
    let given: Vec<&Option<Answer>> = answers.iter().map(|given| &given.answer).collect();
    assert_eq!(given, [&None, &word("no"), &None]);
}

#[test]
fn a_look_that_cannot_be_shown_is_told_and_the_rest_goes_on() {
    let mut sitting = sat(&["cast", "close"], &[]);
    let written =
        play(&mut sitting, vec![SittingEvent::CannotShow("gone".into()), SittingEvent::Written]);
    assert_eq!(written, [Record::Skipped { look: "cast".into(), why: "gone".into() }]);
    assert_eq!(sitting.look().unwrap().id, "close");
    assert_eq!(
        sat(&["cast", "close"], &written).look().unwrap().id,
        "close",
        "also taken up again"
    );
}

#[test]
fn a_broken_off_look_is_not_seen_twice() {
    let records = [Record::Looked { look: "cast".into() }];
    let mut sitting = sat(&["cast"], &records);
    assert!(matches!(sitting.stage(), SittingStage::Answering { .. }));
    assert_eq!(
        sitting.take(SittingEvent::Ready),
        Err(Refused::OutOfTurn("hand the answers in first"))
    );
    let written = play(&mut sitting, vec![SittingEvent::HandedIn]);
    assert!(matches!(written[0], Record::Answered { interrupted: true, .. }));
}

#[test]
fn a_group_counts_hands_for_its_words_only() {
    let looks = vec!["cast".to_owned(), "close".to_owned()];
    let mut sitting = Sitting::new(&first(), Mode::Group, &looks, &[]);
    let asked: Vec<Ask> = sitting.look().unwrap().questions.iter().map(|q| q.ask).collect();
    assert_eq!(asked, [Ask::Credited], "hands need words to be raised for");
    play(&mut sitting, vec![SittingEvent::Ready, SittingEvent::Written]);
    let hands = |counts: &[u32]| Some(Answer::Hands(counts.to_vec()));
    assert_eq!(sitting.take(SittingEvent::Typed(0, hands(&[7]))), Err(Refused::NoAnswer));
    assert_eq!(sitting.take(SittingEvent::Typed(0, word("yes"))), Err(Refused::NoAnswer));
    let rest = vec![
        SittingEvent::Typed(0, hands(&[7, 3])),
        SittingEvent::LookEnded { dropped: 0, now_ms: 0 },
        SittingEvent::HandedIn,
        SittingEvent::Written,
        SittingEvent::TypedAfter(hands(&[1, 9])),
        SittingEvent::Next,
    ];
    let written = play(&mut sitting, rest);
    assert!(
        matches!(&written[0], Record::Answered { answers, .. } if answers[0].answer == hands(&[7, 3]))
    );
    assert!(matches!(&written[1], Record::After { given, .. } if given.answer == hands(&[1, 9])));
}

fn answered(look: &str, answers: &[(&str, Option<Answer>)]) -> Record {
    let given = |(question, answer): &(&str, Option<Answer>)| Given {
        question: (*question).to_owned(),
        answer: answer.clone(),
    };
    Record::Answered {
        look: look.into(),
        answers: answers.iter().map(given).collect(),
        dropped: 0,
        time_up: false,
        interrupted: false,
    }
}

/// All right but that the cast is credited; the elements right, the angle far off; a close call.
fn earlier() -> Vec<Record> {
    let ids = ["pull-over", "cast", "back-hip-circle"].map(str::to_owned).to_vec();
    vec![
        answered("cast", &[("3", points(9800)), ("2", word("yes")), ("1", points(9350))]),
        answered("routine", &[("1", Some(Answer::Words(ids))), ("2", Some(Answer::Degrees(-7.0)))]),
        answered("close", &[("1", word("broken"))]),
    ]
}

#[test]
fn wrong_answers_come_back_and_close_calls_and_flagged_looks_do_not() {
    let set = first();
    assert_eq!(plan(&set, &[]), ["cast", "routine", "close"], "the flagged look never by itself");
    assert_eq!(plan(&set, &[earlier()]), ["cast"]);
    let right =
        vec![answered("cast", &[("3", points(9800)), ("2", word("no")), ("1", points(9350))])];
    // Nothing left to come back: all again.
    assert_eq!(plan(&set, &[earlier(), right.clone()]), ["cast", "routine", "close"]);
    // Wrong again after it was right.
    assert_eq!(plan(&set, &[earlier(), right, earlier()]), ["cast"]);
    let mut on_purpose = first();
    on_purpose.looks[3].on_purpose = true;
    assert_eq!(plan(&on_purpose, &[]).len(), 4);
}

#[test]
fn answers_before_and_after_the_stills_are_set_beside_the_reference() {
    use stillcall::practice::agreement::{ComparedUnit, Said};
    let mut records = earlier();
    let given = Given { question: "2".into(), answer: word("no") };
    records.push(Record::After { look: "cast".into(), given });
    let compared = results(&first(), &begun(&[]), &records);
    let of = |kind: &str| {
        let found = compared.iter().filter(|one| one.kind == kind);
        found.map(|one| one.said.clone()).collect::<Vec<_>>()
    };
    let said = |reference: &str, other: &str| Said::Word {
        reference: reference.into(),
        other: other.into(),
    };
    assert_eq!(of("credited or not"), [said("no", "yes")]);
    assert_eq!(of("credited or not, after the stills"), [said("no", "no")]);
    assert_eq!(of("connected or broken"), [Said::Open], "a close call is right either way");
    let number = Said::Number { unit: ComparedUnit::Points, reference: 9.35, other: 9.35 };
    assert_eq!(of("score"), [number]);
}

#[test]
fn a_torn_tail_is_dropped_and_kept_aside() {
    let folder = tempfile::tempdir().unwrap();
    let set_file = folder.path().join("first.toml");
    let path = path_for(&set_file, "J-2", 1);
    let mut file = SittingFile::create(&path, &begun(&["cast"])).unwrap();
    for record in earlier() {
        file.append(&record).unwrap();
    }
    drop(file);
    let whole = fs::read(&path).unwrap();
    assert_eq!(read(&path).unwrap().1, earlier());
    // Cut anywhere, what is whole stays; before the first line's end it is no sitting.
    let first_line = whole.iter().position(|byte| *byte == b'\n').unwrap() + 1;
    for end in [first_line, first_line + 1, whole.len() - 1, whole.len() - 40] {
        fs::write(&path, &whole[..end]).unwrap();
        let (mut file, _, records) = patiently(|| SittingFile::open(&path));
        assert_eq!(records, earlier()[..records.len()]);
        assert!(records.len() < 3);
        file.append(&earlier()[0]).unwrap();
        assert_eq!(read(&path).unwrap().1.len(), records.len() + 1);
    }
    let torn = fs::read_dir(folder.path()).unwrap().flatten();
    assert!(torn.filter(|file| file.file_name().to_string_lossy().contains("torn")).count() >= 3);
    fs::write(&path, &whole[..first_line - 2]).unwrap();
    assert!(SittingFile::open(&path).is_err(), "left as it is");
    assert_eq!(fs::read(&path).unwrap().len(), first_line - 2);
}

#[test]
fn an_unfinished_sitting_goes_on_and_two_windows_do_not_share_it() {
    let folder = tempfile::tempdir().unwrap();
    let set_file = folder.path().join("first.toml");
    fs::write(&set_file, FIRST).unwrap();
    let open = || go_on_or_begin(&first(), &set_file, ("J-2", Mode::Person), "2026-11-24");
    let (mut file, begun, _) = open().unwrap();
    assert_eq!(begun.looks, ["cast", "routine", "close"]);
    assert!(open().is_err(), "busy");
    file.append(&Record::Looked { look: "cast".into() }).unwrap();
    drop(file);
    let (file, _, records) = patiently(open);
    assert_eq!((records.len(), files_of(&set_file, "J-2").len()), (1, 1));
    drop(file);
    assert!(files_of(&set_file, "J").is_empty(), "another person's sittings are not mine");
}

/// A program that another test starts at this very moment holds our lock until it runs.
fn patiently<T>(open: impl Fn() -> Result<T, SittingError>) -> T {
    for _ in 0..100 {
        match open() {
            Err(SittingError::Busy { .. }) => thread::sleep(Duration::from_millis(20)),
            opened => return opened.unwrap(),
        }
    }
    panic!("busy for two seconds")
}

fn event() -> impl Strategy<Value = SittingEvent> {
    let answer = || {
        proptest::option::of(prop_oneof![
            select(&["yes", "no", "connected", "broken"][..]).prop_map(|w| Answer::Word(w.into())),
            (9_000_i64..10_000).prop_map(|p| Answer::Points(Points(p))),
            Just(Answer::Degrees(12.0)),
        ])
    };
    prop_oneof![
        2 => Just(SittingEvent::Ready),
        1 => Just(SittingEvent::CannotShow("gone".into())),
        4 => (0_usize..4, answer()).prop_map(|(question, answer)| SittingEvent::Typed(question, answer)),
        3 => (0_u32..3).prop_map(|dropped| SittingEvent::LookEnded { dropped, now_ms: 100 }),
        2 => (0_u64..40_000).prop_map(|now_ms| SittingEvent::Tick { now_ms }),
        3 => Just(SittingEvent::HandedIn),
        6 => Just(SittingEvent::Written),
        1 => Just(SittingEvent::NotWritten),
        2 => answer().prop_map(SittingEvent::TypedAfter),
        5 => Just(SittingEvent::Next),
    ]
}

proptest! {
    /// Whatever is pressed in whatever order: no still before its answers are on the disk, no
    /// look twice, no answer changed, no score before the start value, and after a crash at any
    /// point the sitting stands where the disk says.
    #[test]
    fn the_order_is_kept_whatever_happens(events in proptest::collection::vec(event(), 0..120)) {
        let looks = ["cast", "routine", "close"];
        let mut sitting = sat(&looks, &[]);
        let (mut disk, mut waiting): (Vec<Record>, Vec<Record>) = (Vec::new(), Vec::new());
        for event in events {
            let before = (sitting.stage().clone(), sitting.answers().to_vec());
            let is_written = event == SittingEvent::Written;
            match sitting.take(event) {
                Err(_) => {
                    prop_assert_eq!(&before.0, sitting.stage(), "what is refused changes nothing");
                    prop_assert_eq!(&before.1[..], sitting.answers());
                    continue;
                }
                Ok(effects) => {
                    if is_written {
                        disk.append(&mut waiting);
                    }
                    for effect in effects {
                        match effect {
                            Effect::Write(record) => waiting = vec![record],
                            Effect::Play => {
                                let id = &sitting.look().unwrap().id;
                                let looked = disk.iter().filter(|r| **r == Record::Looked { look: id.clone() });
                                prop_assert_eq!(looked.count(), 1, "on the disk, and once only");
                            }
                        }
                    }
                }
            }
            let of_disk = |id: &str| disk.iter().find_map(|record| match record {
                Record::Answered { look, answers, .. } if look == id => Some(answers.clone()),
                _ => None,
            });
            if let SittingStage::Still(_) | SittingStage::Keeping(_) | SittingStage::Line(_) | SittingStage::Reference(_) = sitting.stage() {
                let kept = of_disk(&sitting.look().unwrap().id);
                prop_assert!(kept.is_some(), "a still before the answers were on the disk");
                let kept: Vec<Option<Answer>> = kept.unwrap().into_iter().map(|g| g.answer).collect();
                prop_assert_eq!(&kept[..], sitting.answers(), "the answers are those on the disk");
            }
            let again = sat(&looks, &disk);
            prop_assert!(again.place().0 >= 1);
            if let (SittingStage::Still(a), SittingStage::Still(b)) = (sitting.stage(), again.stage()) {
                prop_assert!(b <= a);
            }
            if *sitting.stage() == SittingStage::Opening {
                prop_assert!(!matches!(again.stage(), SittingStage::Looking));
            }
        }
        for id in looks {
            let times = disk.iter().filter(|r| matches!(r, Record::Answered { look, .. } if look == id)).count();
            prop_assert!(times <= 1, "answered twice");
            if let Some(Record::Answered { answers, .. }) = disk.iter().find(|r| matches!(r, Record::Answered { look, .. } if look == id)) {
                let of = |question: &str| answers.iter().find(|g| g.question == question).and_then(|g| g.answer.clone());
                prop_assert!(id != "cast" || of("1").is_none() || of("3").is_some(), "score before start value");
            }
        }
    }
}
