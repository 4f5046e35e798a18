//! A picture's brightness, at several sizes.

/// Brightness row by row.
#[derive(Clone, Debug, PartialEq)]
pub struct Grey {
    width: usize,
    height: usize,
    light: Vec<f32>,
}

impl Grey {
    /// Returns the picture with these rows; nothing where they are not so many numbers.
    pub fn new(width: usize, light: Vec<f32>) -> Option<Self> {
        let height = light.len().checked_div(width)?;
        let is_whole = width * height == light.len() && light.iter().all(|it| it.is_finite());
        (is_whole && height > 0).then_some(Self { width, height, light })
    }

    /// Returns how wide and high it is.
    pub fn size(&self) -> [usize; 2] {
        [self.width, self.height]
    }

    /// Returns how much another picture of its size differs from it, in levels of 255 for each pixel.
    pub fn change(&self, other: &Self) -> f32 {
        let both = self.light.iter().zip(&other.light);
        let sum: f32 = both.map(|(one, other)| (one - other).abs()).sum();
        sum / self.light.len() as f32
    }

    pub(super) fn at(&self, x: usize, y: usize) -> f32 {
        self.light.get(y * self.width + x).copied().unwrap_or(0.0)
    }

    /// Returns a part of a row.
    pub(super) fn row(&self, [x, y]: [usize; 2], long: usize) -> &[f32] {
        self.light.get(y * self.width + x..y * self.width + x + long).unwrap_or_default()
    }

    /// Returns it half as large, each pixel the mean of four.
    fn half(&self) -> Self {
        let [width, height] = [self.width / 2, self.height / 2];
        let mean = |x: usize, y: usize| {
            (self.at(x, y) + self.at(x + 1, y) + self.at(x, y + 1) + self.at(x + 1, y + 1)) / 4.0
        };
        let rows = (0..height).flat_map(|y| (0..width).map(move |x| mean(2 * x, 2 * y)));
        Self { width, height, light: rows.collect() }
    }

    /// Returns it and its halves, so many in all, the largest first.
    pub(super) fn halves(self, count: usize) -> Vec<Self> {
        let mut all = vec![self];
        while all.len() < count {
            let Some(half) = all.last().map(Self::half) else { break };
            all.push(half);
        }
        all
    }
}
