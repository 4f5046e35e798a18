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
