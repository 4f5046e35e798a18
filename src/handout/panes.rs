//! Where one picture or two lie on what is made.

/// Where a picture lies: from which place on, and how large.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Pane {
    pub at: [u32; 2],
    pub size: [u32; 2],
}

/// Longest side of what is made, and longest one of two pictures side by side, for which most screens
/// have no more room.
const MOST: f64 = 3840.0;
const MOST_BESIDE: f64 = 1920.0;

/// Returns the size for a picture alone and its pane: its own, with sides made even.
pub(super) fn alone(size: [u32; 2]) -> ([u32; 2], Pane) {
    let size = scaled(size, limit(size, MOST));
    (size, Pane { at: [0, 0], size })
}

/// Returns the size for two pictures side by side, equally high, and their panes.
pub(super) fn beside(sizes: [[u32; 2]; 2]) -> ([u32; 2], [Pane; 2]) {
    let high = f64::from(sizes[0][1].max(sizes[1][1]));
    let widths = sizes.map(|[w, h]| f64::from(w) * high / f64::from(h.max(1)));
    let share = limit_of(widths[0] + widths[1], high, MOST_BESIDE);
    let high = even(high, share);
    let [first, second] = widths.map(|width| even(width, share));
    let panes =
        [Pane { at: [0, 0], size: [first, high] }, Pane { at: [first, 0], size: [second, high] }];
    ([first + second, high], panes)
}

/// Returns the size for one picture over the other, that of the first, and their panes: the second as
/// large as fits, in the middle.
pub(super) fn over(sizes: [[u32; 2]; 2]) -> ([u32; 2], [Pane; 2]) {
    let (size, first) = alone(sizes[0]);
    let [w, h] = sizes[1].map(|side| f64::from(side.max(1)));
    let share = (f64::from(size[0]) / w).min(f64::from(size[1]) / h);
    let own = [even(w, share).min(size[0]), even(h, share).min(size[1])];
    // Halved chroma has no odd places.
    let at = [0, 1].map(|axis| ((size[axis] - own[axis]) / 2) & !1);
    (size, [first, Pane { at, size: own }])
}

fn limit([w, h]: [u32; 2], most: f64) -> f64 {
    limit_of(f64::from(w), f64::from(h), most)
}

fn limit_of(w: f64, h: f64, most: f64) -> f64 {
    (most / w.max(h).max(1.0)).min(1.0)
}

fn scaled(size: [u32; 2], share: f64) -> [u32; 2] {
    size.map(|side| even(f64::from(side), share))
}

/// Returns an even length: of what is made smaller no more than there is room for, else no less than
/// there is to be seen.
fn even(side: f64, share: f64) -> u32 {
    let made = side * share;
    if share < 1.0 {
        ((made + NEARLY) as u32 & !1).max(2)
    } else {
        ((made - NEARLY).ceil().max(2.0) as u32).next_multiple_of(2)
    }
}

/// What a length may be off a whole number of pixels and still be that.
const NEARLY: f64 = 1e-6;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_keeps_its_size_and_two_share_the_width() {
        assert_eq!(alone([1920, 1080]).0, [1920, 1080]);
        assert_eq!(alone([1081, 1921]).0, [1082, 1922]);
        let (size, [first, second]) = beside([[1920, 1080], [1080, 1920]]);
        assert!((1916..=1920).contains(&size[0]), "{size:?}");
        assert_eq!((first.size[1], second.size[1]), (size[1], size[1]));
        assert_eq!((second.at, first.size[0] + second.size[0]), ([first.size[0], 0], size[0]));
    }

    #[test]
    fn what_lies_over_another_fits_into_it() {
        let (size, [_, second]) = over([[1280, 720], [720, 1280]]);
        assert_eq!((size, second), ([1280, 720], Pane { at: [438, 0], size: [404, 720] }));
    }
}
