//! Which element serves which place: exact, ties broken by order of performance.

/// Returns for each place the element that fills it, or nothing.
///
/// `fits[place][element]` says who may fill what, `worth[place]` what a filled place is worth.
/// The filled places are worth as much as possible together; among all ways of filling them, the
/// elements taken are the earliest.
pub fn assign(fits: &[Vec<bool>], worth: &[i64]) -> Vec<Option<usize>> {
    let elements = fits.first().map_or(0, Vec::len);
    // Sets of places that can be filled together form a matroid, so that taking the worthiest
    // first is exact; a chain of moves makes room for each.
    let mut order: Vec<usize> = (0..fits.len()).collect();
    order.sort_by_key(|place| (-worth[*place], *place));
    let mut held: Vec<Option<usize>> = vec![None; elements];
    let filled: Vec<usize> = order
        .into_iter()
        .filter(|place| {
            seat(
                *place,
                &|place, element| fits[place][element],
                &mut held,
                &mut vec![false; elements],
            )
        })
        .collect();
    earliest(fits, filled)
}

/// Fills the same places by the earliest elements that can: elements, too, form a matroid, and a
/// matching exists that covers both choices.
fn earliest(fits: &[Vec<bool>], mut places: Vec<usize>) -> Vec<Option<usize>> {
    places.sort_unstable();
    let elements = fits.first().map_or(0, Vec::len);
    let mut held: Vec<Option<usize>> = vec![None; places.len()];
    for element in 0..elements {
        let fits = |element: usize, slot: usize| fits[places[slot]][element];
        seat(element, &fits, &mut held, &mut vec![false; places.len()]);
    }
    let mut result = vec![None; fits.len()];
    for (slot, element) in held.iter().enumerate() {
        result[places[slot]] = *element;
    }
    result
}

/// Seats `one` on a free chair, moving those who sit along a chain where needed.
fn seat(
    one: usize,
    fits: &impl Fn(usize, usize) -> bool,
    held: &mut [Option<usize>],
    tried: &mut [bool],
) -> bool {
    for chair in 0..held.len() {
        if tried[chair] || !fits(one, chair) {
            continue;
        }
        tried[chair] = true;
        let free = match held[chair] {
            None => true,
            Some(other) => seat(other, fits, held, tried),
        };
        if free {
            held[chair] = Some(one);
            return true;
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn makes_room_along_a_chain() {
        // Place 0 takes either element, place 1 only element 0.
        let fits = [vec![true, true], vec![true, false]];
        assert_eq!(assign(&fits, &[1, 1]), [Some(1), Some(0)]);
    }

    #[test]
    fn fills_the_worthiest_place_when_not_all_can_be() {
        let fits = [vec![true], vec![true]];
        assert_eq!(assign(&fits, &[1, 3]), [None, Some(0)]);
    }

    #[test]
    fn takes_the_earliest_elements() {
        let fits = [vec![true, true, true]];
        assert_eq!(assign(&fits, &[1]), [Some(0)]);
    }
}
