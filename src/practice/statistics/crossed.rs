//! Intervals of figures made of people's answers about items, where an item is one draw of many
//! and, where people are compared, so is a person.
//!
//! What varies from item to item and from person to person is seen by leaving one of them out at a
//! time (Tukey's jackknife; Miller 1974, Biometrika 61:1-15). Both parts are added and nothing is
//! taken off for what they share, as in the bootstrap of Owen 2007, Ann. Appl. Stat. 1:386-411:
//! where neither varies, the interval is too long, never too short. The degrees of freedom are
//! Satterthwaite's (1946). The sources are named from memory; what they hold is simulated in
//! `agreement_course`.

use super::{
    interval::{Interval, t_quantile},
    withheld::{Range, Withheld},
};

/// What one person answered about one item; both are numbers from 0 on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answered<T> {
    /// The item.
    pub item: usize,
    /// The person.
    pub person: usize,
    /// The answer.
    pub said: T,
}

impl<T> Answered<T> {
    /// Returns another answer of the same person about the same item.
    pub const fn with<S>(&self, said: S) -> Answered<S>
    where
        S: Copy,
    {
        Answered { item: self.item, person: self.person, said }
    }
}

/// What varies beside the figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Varies {
    /// Items alone: the figure speaks of these very people.
    Items,
    /// Items and people: the figure speaks of others like them as well.
    ItemsAndPeople,
}

/// Returns the interval of a figure between -1 and 1, worked out by Fisher's transformation.
///
/// `imagined` are items that only widen the interval: where few items are of a rare kind they stand
/// for those that might have come.
pub fn coefficient<T: Copy>(
    cells: &[Answered<T>],
    imagined: &[Answered<T>],
    varies: Varies,
    figure: impl Fn(&[Answered<T>]) -> Option<f64>,
) -> Range {
    Range(jackknife(cells, imagined, varies, figure))
}

fn jackknife<T: Copy>(
    cells: &[Answered<T>],
    imagined: &[Answered<T>],
    varies: Varies,
    figure: impl Fn(&[Answered<T>]) -> Option<f64>,
) -> Result<Interval, Withheld> {
    let items = distinct(cells.iter().map(|cell| cell.item));
    let people = distinct(cells.iter().map(|cell| cell.person));
    let crossed = varies == Varies::ItemsAndPeople;
    Range::enough(items.len(), crossed.then_some(people.len()))?;
    let value = figure(cells).ok_or(Withheld::HangsOnOne)?;
    if value >= 1.0 - 1e-9 {
        return Err(Withheld::NothingDiffers);
    }
    let all: Vec<Answered<T>> = cells.iter().chain(imagined).copied().collect();
    let without = |leaves: &dyn Fn(&Answered<T>) -> bool| {
        let rest: Vec<Answered<T>> = all.iter().filter(|cell| !leaves(cell)).copied().collect();
        figure(&rest).map(transformed).ok_or(Withheld::HangsOnOne)
    };
    let every_item = distinct(all.iter().map(|cell| cell.item));
    let by_item: Vec<f64> = every_item
        .iter()
        .map(|item| without(&|cell| cell.item == *item))
        .collect::<Result<_, _>>()?;
    let (of_items, of_people) = (
        variance(&by_item),
        if crossed {
            let by_person: Result<Vec<f64>, _> =
                people.iter().map(|person| without(&|cell| cell.person == *person)).collect();
            variance(&by_person?)
        } else {
            0.0
        },
    );
    let whole = of_items + of_people;
    if whole <= 0.0 {
        return Err(Withheld::NothingDiffers);
    }
    let freedom = satterthwaite(whole, [(of_items, items.len()), (of_people, people.len())]);
    let half = t_quantile(freedom) * whole.sqrt();
    let middle = transformed(value);
    Ok(Interval { low: (middle - half).tanh(), high: (middle + half).tanh() })
}

/// Returns the share of answers that are hits with its interval: that of a figure of items and
/// people, on the scale of the logarithm of the odds.
///
/// Of what both parts hold alike, only as much is taken off as neither items nor people vary:
/// the variance is unbiased where nothing varies, and Owen's where one of them varies much.
pub(super) fn share(cells: &[Answered<bool>], varies: Varies) -> Result<Interval, Withheld> {
    let items = distinct(cells.iter().map(|cell| cell.item));
    let people = distinct(cells.iter().map(|cell| cell.person));
    let crossed = varies == Varies::ItemsAndPeople;
    Range::enough(items.len(), crossed.then_some(people.len()))?;
    let n = cells.len() as f64;
    let value = |cell: &Answered<bool>| f64::from(u8::from(cell.said));
    let share = cells.iter().map(value).sum::<f64>() / n;
    if share <= 0.0 || share >= 1.0 {
        return Err(Withheld::NothingDiffers);
    }
    let place = |of: &[usize], one: usize| of.binary_search(&one).unwrap_or(0);
    let mut by_item = vec![(0.0, 0.0); items.len()];
    let mut by_person = vec![(0.0, 0.0); people.len()];
    for cell in cells {
        let off = value(cell) - share;
        for (sum, count) in
            [&mut by_item[place(&items, cell.item)], &mut by_person[place(&people, cell.person)]]
        {
            *sum += off;
            *count += 1.0;
        }
    }
    let part = |sums: &[(f64, f64)]| {
        let groups = sums.len() as f64;
        groups / (groups - 1.0) * sums.iter().map(|(sum, _)| sum * sum).sum::<f64>() / (n * n)
    };
    let of_items = part(&by_item);
    let of_people = if crossed { part(&by_person) } else { 0.0 };
    let rest = |cell: &Answered<bool>| {
        let (of_item, of_person) =
            (by_item[place(&items, cell.item)], by_person[place(&people, cell.person)]);
        (value(cell) - share - of_item.0 / of_item.1 - of_person.0 / of_person.1).powi(2)
    };
    let free = n - items.len() as f64 - people.len() as f64 + 1.0;
    let shared = if free > 0.0 { cells.iter().map(rest).sum::<f64>() / (free * n) } else { 0.0 };
    let larger = of_items.max(of_people);
    let off =
        if crossed { shared * (shared / larger.max(f64::MIN_POSITIVE)).min(1.0) } else { 0.0 };
    let whole = (of_items + of_people - off).max(larger).max(shared);
    let freedom = satterthwaite(whole, [(of_items, items.len()), (of_people, people.len())]);
    let half = t_quantile(freedom) * whole.sqrt() / (share * (1.0 - share));
    let middle = (share / (1.0 - share)).ln();
    let back = |x: f64| 1.0 / (1.0 + (-x).exp());
    Ok(Interval { low: back(middle - half), high: back(middle + half) })
}

fn satterthwaite(whole: f64, parts: [(f64, usize); 2]) -> f64 {
    let of = |(part, groups): (f64, usize)| part * part / (groups as f64 - 1.0).max(1.0);
    (whole * whole / parts.into_iter().map(of).sum::<f64>().max(f64::MIN_POSITIVE)).max(1.0)
}

/// Returns Fisher's transformation, held away from its poles.
fn transformed(value: f64) -> f64 {
    value.clamp(-0.9999, 0.999_999).atanh()
}

/// Returns the jackknife's variance from the figures without one each.
fn variance(without: &[f64]) -> f64 {
    let n = without.len() as f64;
    let mean = without.iter().sum::<f64>() / n;
    (n - 1.0) / n * without.iter().map(|figure| (figure - mean).powi(2)).sum::<f64>()
}

pub(super) fn distinct(numbers: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut numbers: Vec<usize> = numbers.collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}
