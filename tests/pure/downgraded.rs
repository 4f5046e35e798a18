//! An element that misses its angle counts as a lower one, where the division may use that. The
//! book and its amounts are invented; what is missing is worked out by hand.

use stillcall::{marks::Quantity, sheet::score, units::Points};

use crate::books::{ask::like_base, write::write};

/// A spin of class b that counts as a half spin of class a, which only the high division may use;
/// asked for is one element of each class, 0.3 and 0.1.
const SPIN: &str = "
[[element]]
id = \"spin\"
name = \"Spin\"
event = \"beam\"
class = \"b\"
becomes = \"half-spin\"

[[element]]
id = \"half-spin\"
name = \"Half spin\"
event = \"beam\"
class = \"a\"
divisions = \"high\"

[[angle]]
id = \"spin\"
label = \"Spin\"
events = \"beam\"
elements = \"spin\"
quantity = \"turn\"
target = 360
side = \"at-least\"
decides = \"turning-foot\"
gates = \"value-part\"
gate_within = 89

[[value_parts]]
events = \"beam\"
need = [{ class = \"a\", count = 1, price = 0.1 }, { class = \"b\", count = 1, price = 0.3 }]
";

/// What the missing value parts cost after a spin of so many degrees.
fn missing(division: &str, degrees: f64) -> Points {
    let spin = write("beam", division).does(&["spin"]).reads(Quantity::Turn, degrees, 1.0);
    let sheet = score(&like_base(SPIN), &spin.done());
    sheet.value_parts.iter().map(|line| line.amount).sum()
}

#[test]
fn it_counts_as_the_lower_one() {
    // A whole spin fills the place of class b; the one of class a stays empty.
    assert_eq!(missing("high", 350.0), Points(100));
    // Half of it fills the place of class a.
    assert_eq!(missing("high", 180.0), Points(300));
}

#[test]
fn where_the_division_may_not_use_the_lower_one_it_counts_as_nothing() {
    assert_eq!(missing("low", 350.0), Points(100));
    assert_eq!(missing("low", 180.0), Points(400));
}

/// Three spins of one quantity: a double (class c), a whole (class b) and a half one (class a), each with
/// a rule of its own and a place of the value parts: 0.5, 0.3 and 0.1.
const SPINS: &str = "
[[class]]
id = \"a\"
name = \"A\"
value = 0.1

[[class]]
id = \"b\"
name = \"B\"
value = 0.3

[[class]]
id = \"c\"
name = \"C\"
value = 0.5

[[element]]
id = \"double-spin\"
name = \"Double spin\"
event = \"beam\"
class = \"c\"
becomes = \"whole-spin\"

[[element]]
id = \"whole-spin\"
name = \"Whole spin\"
event = \"beam\"
class = \"b\"
becomes = \"half-spin\"

[[element]]
id = \"half-spin\"
name = \"Half spin\"
event = \"beam\"
class = \"a\"

[[angle]]
id = \"double\"
label = \"Double\"
elements = \"double-spin\"
quantity = \"turn\"
target = 690
side = \"at-least\"
decides = \"turning-foot\"
gates = \"value-part\"
bands = [{ amount = 0.2 }]

[[angle]]
id = \"whole\"
label = \"Whole\"
elements = \"whole-spin\"
quantity = \"turn\"
target = 330
side = \"at-least\"
decides = \"turning-foot\"
gates = \"value-part\"
bands = [{ amount = 0.4 }]

[[angle]]
id = \"half\"
label = \"Half\"
elements = \"half-spin\"
quantity = \"turn\"
target = 150
side = \"at-least\"
decides = \"turning-foot\"
gates = \"value-part\"

[[value_parts]]
events = \"beam\"
higher_replaces = false
need = [
  { class = \"a\", count = 1, price = 0.1 },
  { class = \"b\", count = 1, price = 0.3 },
  { class = \"c\", count = 1, price = 0.5 },
]
";

#[test]
fn each_step_down_asks_the_lower_ones_own_rule() {
    let book = like_base(SPINS);
    let spun = |degrees: f64| {
        let spin = write("beam", "high").does(&["double-spin"]);
        let sheet = score(&book, &spin.reads(Quantity::Turn, degrees, 0.0).done());
        let missing: Points = sheet.value_parts.iter().map(|line| line.amount).sum();
        let off: Points = sheet.deductions.iter().map(|line| line.amount).sum();
        (missing, off, sheet.elements[0].reason.clone())
    };
    // All three places are asked for, 0.9; the one that is filled is worth 0.5, 0.3, 0.1 or none.
    assert_eq!(spun(700.0).0, Points(400));
    let (missing, off, said) = spun(400.0);
    assert_eq!((missing, off), (Points(600), Points(200)));
    assert!(said.contains("Counts as a value part, B"), "{said}");
    // Two steps; the middle one's own deduction is not taken.
    assert_eq!((spun(200.0).0, spun(200.0).1), (Points(800), Points(200)));
    let (missing, _, said) = spun(100.0);
    assert_eq!(missing, Points(900));
    assert!(said.contains("\"Half\" is not met either"), "{said}");
}

#[test]
fn what_it_counts_as_is_open_where_the_reading_is() {
    // 330 +- 10 of a double spin: a whole one or a half one, 0.6 or 0.8 missing, and 0.2 taken.
    let spin = write("beam", "high").does(&["double-spin"]).reads(Quantity::Turn, 330.0, 10.0);
    let range = score(&like_base(SPINS), &spin.done()).score_range;
    assert_eq!(range.high - range.low, Points(200));
}
