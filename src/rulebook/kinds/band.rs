//! A deduction for being short of a target.

use crate::{
    marks::Quantity,
    rulebook::{
        keys::{
            Key, Part, Word, degrees, flag, inner, inner_list, needs_one_of, points, positive,
            table,
        },
        rows::{Field, Findings, Row},
    },
    units::{Magnitude, Points, Unit},
};

/// A deduction for being short of a target.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Short by more than this.
    pub over: Magnitude,
    /// Short by up to this; the last band has no end.
    pub up_to: Option<Magnitude>,
    /// Whether `up_to` itself belongs to this band.
    pub inclusive: bool,
    /// What it costs.
    pub amount: BandAmount,
}

/// What a band costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BandAmount {
    /// Always the same.
    Flat(Points),
    /// In proportion from the band's beginning to its end, rounded to the grid.
    Proportional {
        /// At the beginning.
        from: Points,
        /// At the end.
        to: Points,
        /// Steps of the amount.
        grid: Points,
    },
}

table! {
    /// A band as it is written.
    #[derive(Debug)]
    struct Written {
        /// Short by more than this; where the band before ends when left out.
        may over: Option<Magnitude> = degrees();
        /// Short by up to this; without end when left out.
        may up_to: Option<Magnitude> = degrees();
        /// Whether up_to itself belongs here; true when left out.
        may inclusive: bool = flag(), or true;
        /// What it costs.
        may amount: Points = points();
        /// An amount that grows through the band.
        may proportional: Option<Growing> = inner::<Growing>();
    }
    then check;
}

table! {
    /// An amount that grows.
    #[derive(Debug)]
    struct Growing {
        /// Amount at the beginning of the band.
        must from: Points = points();
        /// Amount at its end.
        must to: Points = points();
        /// Steps of the amount.
        must grid: Option<Points> = points();
    }
    then check_grid;
}

const BANDS: Key<Vec<Written>> =
    Key::may("bands", inner_list::<Written>(), "Deductions by how far it is short.");

impl Part for Vec<Band> {
    const FIELDS: &'static [Field] = &BANDS.fields();

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let quantity = Quantity::of(row.word("quantity"));
        let unit = quantity.map_or(Unit::Degree, Quantity::unit);
        let written = BANDS.value(row, findings).unwrap_or_default();
        let mut bands = Self::new();
        for (one, row) in written.into_iter().zip(row.rows("bands")) {
            let band = band(one, row, (bands.last(), unit), findings);
            bands.push(band);
        }
        bands
    }
}

/// Returns the band that comes after the one before it.
fn band(
    written: Written,
    row: &Row,
    (before, unit): (Option<&Band>, Unit),
    findings: &mut Findings<'_>,
) -> Band {
    let Written { over, up_to, inclusive, amount, proportional } = written;
    let over = over.or_else(|| before?.up_to).unwrap_or_default();
    if before.is_some_and(|before| before.up_to.is_none()) {
        let message = "the band before this one has no end".to_owned();
        findings.error(&row.span, message, "give it up_to, or put it last");
    }
    if up_to.is_some_and(|up_to| up_to.0 <= over.0) {
        let message = format!("this band ends before it begins at {}", unit.write(over));
        findings.error(&row.span_of("up_to"), message, "list the bands from small to large");
    }
    let amount = match proportional {
        None => BandAmount::Flat(amount),
        Some(Growing { from, to, grid }) => {
            BandAmount::Proportional { from, to, grid: grid.unwrap_or_default() }
        }
    };
    Band { over, up_to, inclusive, amount }
}

fn check(_: &mut Written, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["amount", "proportional"], findings);
    if row.row("proportional").is_some() && !row.has("up_to") {
        let message = "an amount that grows through its band needs the band's end".to_owned();
        findings.error(&row.span_of("proportional"), message, "add up_to");
    }
}

fn check_grid(growing: &mut Growing, row: &Row, findings: &mut Findings<'_>) {
    growing.grid = Some(positive((row, "grid"), growing.grid, findings));
}
