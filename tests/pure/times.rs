//! How long elements last, and too few of them. The amounts are invented; seconds are counted by
//! hand: 900 ticks make one unless a case says otherwise.

use stillcall::{
    sheet::{Line, Status, score},
    units::{Points, TimeBase},
};

use crate::books::{
    ask::{like_base, points, took},
    write::{lasting, write},
};

/// What a hold of at least two seconds costs when the element lasts so many ticks.
fn held(keys: &str, element: &str, ticks: i64) -> Option<Points> {
    let rule = "[[time]]\nid = \"held\"\nlabel = \"Held\"\nevents = \"beam\"\nof = \"element\"\n\
                at_least = 2\n";
    let sheaf = lasting(write("beam", "low").does(&[element]), ticks);
    took(&score(&like_base(&format!("{rule}{keys}\n")), &sheaf), "held")
}

#[test]
fn a_hold_is_asked_of_the_elements_that_its_rule_names() {
    let by_name = "elements = \"handstand\"\namount = 0.3";
    assert_eq!(held(by_name, "handstand", 1799), Some(points("0.3")));
    assert_eq!(held(by_name, "handstand", 1800), None, "two seconds are enough");
    assert_eq!(held(by_name, "roll", 900), None);
    let by_tag = "tags = \"backward\"\namount = 0.3";
    assert_eq!(held(by_tag, "walkover", 900), Some(points("0.3")));
    assert_eq!(held(by_tag, "handstand", 900), None);
}

#[test]
fn a_hold_that_takes_credit_alone_stands_on_no_line_of_its_own() {
    let keys = "elements = \"handstand\"\nremoves = \"value-part\"";
    assert_eq!(held(keys, "handstand", 900), None);
}

/// A handstand is asked for at 0.5; 2.5 s are past the signal and within the limit.
#[test]
fn a_signal_takes_no_credit() {
    let rules = "[[requirement]]\nid = \"upside\"\nlabel = \"Upside down\"\nevents = \"beam\"\n\
                 price = 0.5\ntags = \"handstand\"\n\n\
                 [[time]]\nid = \"held\"\nlabel = \"Held\"\nevents = \"beam\"\nof = \"element\"\n\
                 elements = \"handstand\"\nat_most = 3\nwarn_at = 2\nremoves = \"requirement\"\n";
    let status = |ticks| {
        let sheaf = lasting(write("beam", "low").does(&["handstand"]), ticks);
        score(&like_base(rules), &sheaf).requirements[0].status
    };
    assert_eq!(status(900), Status::Met);
    assert_eq!(status(2250), Status::Met);
    assert_eq!(status(2701), Status::Missed, "the limit itself takes it");
}

#[test]
fn a_line_says_how_long_it_lasted() {
    let rule = "[[time]]\nid = \"held\"\nlabel = \"Held\"\nevents = \"beam\"\nof = \"element\"\n\
                at_least = 2\nelements = \"handstand\"\namount = 0.3\n";
    let sheaf = lasting(write("beam", "low").does(&["handstand"]), 1350);
    let sheet = score(&like_base(rule), &sheaf);
    let line = sheet.deductions.iter().find(|line| line.rule == "held").unwrap();
    assert!(line.reason.starts_with("It lasted 1.50 s, and "), "{}", line.reason);
}

/// 30,000 to 1,001 pictures a second: 59 of them last 1.97 s, 60 last 2.002 s.
#[test]
fn seconds_are_counted_in_the_clips_own_ticks() {
    let rule = "[[time]]\nid = \"held\"\nlabel = \"Held\"\nevents = \"beam\"\nof = \"element\"\n\
                at_least = 2\nelements = \"handstand\"\namount = 0.3\n";
    let held = |ticks| {
        let mut sheaf = lasting(write("beam", "low").does(&["handstand"]), ticks);
        sheaf.clip.as_mut().unwrap().time_base = TimeBase::new(1001, 30_000).unwrap();
        took(&score(&like_base(rule), &sheaf), "held")
    };
    assert_eq!(held(59), Some(points("0.3")));
    assert_eq!(held(60), None);
}

#[test]
fn a_bonus_is_a_line_with_its_page() {
    let bonus = |keys: &str| {
        let rule = format!(
            "[[bonus]]\nid = \"bonus\"\nlabel = \"Bonus\"\nevents = \"beam\"\namount = 0.2\n\
             where = \"p. 9\"\n{keys}\n"
        );
        let mut sheaf = write("beam", "low").does(&["wheel"]).done();
        sheaf.routine.facts.insert("mat".into(), "thin".into());
        let sheet = score(&like_base(&rule), &sheaf);
        let line = sheet.deductions.iter().find(|line| line.rule == "bonus").unwrap();
        (line.amount, line.status, line.page.clone())
    };
    let expected = (Points(-200), Status::Taken, "p. 9".to_owned());
    assert_eq!(bonus("elements = \"wheel\""), expected);
    assert_eq!(bonus("fact = \"mat\"\nis = \"thin\""), expected);
}

#[test]
fn lines_of_times_and_of_too_few_lead_to_their_page() {
    let rules = "[[time]]\nid = \"held\"\nlabel = \"Held\"\nevents = \"beam\"\nof = \"element\"\n\
                 at_least = 2\nelements = \"handstand\"\namount = 0.3\nwhere = \"p. 7\"\n\n\
                 [[too_few]]\nid = \"few\"\nlabel = \"Few\"\nevents = \"beam\"\n\
                 steps = [{ below = 3, amount = 1.0 }]\nwhere = \"p. 8\"\n";
    let sheaf = lasting(write("beam", "low").does(&["handstand"]), 900);
    let sheet = score(&like_base(rules), &sheaf);
    let line = |rule: &str| -> (Status, String) {
        let is_it = |line: &&Line| line.rule == rule;
        let line = sheet.deductions.iter().find(is_it).unwrap();
        (line.status, line.page.clone())
    };
    assert_eq!(line("held"), (Status::Taken, "p. 7".to_owned()));
    assert_eq!(line("few"), (Status::Taken, "p. 8".to_owned()));
}
