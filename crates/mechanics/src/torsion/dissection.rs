//! The order in which unknowns are eliminated, so that few entries become other than zero.
//!
//! Method: nested dissection (George 1973, SIAM J. Numer. Anal. 10).

/// The order of nested dissection: unknowns are halved by their places, and those of one half that
/// stand together with the other are put last.
pub(super) struct Dissection<'a> {
    places: &'a [[f64; 2]],
    starts: Vec<usize>,
    pairs: &'a [(u32, u32)],
    is_on_high_side: Vec<bool>,
    order: Vec<usize>,
}

/// Groups of this size are not halved further.
const SMALL: usize = 24;

impl<'a> Dissection<'a> {
    /// The unknowns in order of elimination; `pairs` are those that stand together, in both orders
    /// and ascending.
    pub(super) fn of(places: &'a [[f64; 2]], pairs: &'a [(u32, u32)]) -> Vec<usize> {
        let mut starts = vec![0; places.len() + 1];
        for &(one, _) in pairs {
            starts[one as usize + 1] += 1;
        }
        for index in 0..places.len() {
            starts[index + 1] += starts[index];
        }
        let mut own = Self {
            places,
            starts,
            pairs,
            is_on_high_side: vec![false; places.len()],
            order: Vec::with_capacity(places.len()),
        };
        own.dissect((0..places.len()).collect());
        own.order
    }

    fn dissect(&mut self, mut group: Vec<usize>) {
        if group.len() <= SMALL {
            self.order.extend(group);
            return;
        }
        let [x, y] = [0, 1].map(|axis| self.range(&group, axis));
        let longer = usize::from(y > x);
        // A cut in the middle may run along a wall: then others are tried.
        let cuts = [
            (longer, 0.5),
            (1 - longer, 0.5),
            (longer, 0.4),
            (longer, 0.6),
            (1 - longer, 0.4),
            (1 - longer, 0.6),
        ];
        let count = group.len() as f64;
        let mut best: Option<[Vec<usize>; 3]> = None;
        for (axis, share) in cuts {
            let parts = self.cut(&mut group, axis, (share * count) as usize);
            if best
                .as_ref()
                .is_none_or(|known| parts[1].len() < known[1].len())
            {
                best = Some(parts);
            }
            let fewest = best.as_ref().map_or(0, |known| known[1].len());
            if fewest as f64 <= 1.5 * count.sqrt() {
                break;
            }
        }
        if let Some([low, between, high]) = best {
            self.dissect(low);
            self.dissect(high);
            self.order.extend(between);
        }
    }

    fn range(&self, group: &[usize], axis: usize) -> f64 {
        let values = group.iter().map(|&own| self.places[own][axis]);
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), own| {
            (low.min(own), high.max(own))
        });
        high - low
    }

    /// The unknowns before a cut that do not stand together with those behind, those that do, and
    /// those behind.
    fn cut(&mut self, group: &mut [usize], axis: usize, place: usize) -> [Vec<usize>; 3] {
        group.sort_unstable_by(|&a, &b| {
            let by_place = self.places[a][axis].total_cmp(&self.places[b][axis]);
            by_place.then(a.cmp(&b))
        });
        let (before, high) = group.split_at(place);
        for &own in high {
            self.is_on_high_side[own] = true;
        }
        let meets_high = |own: &usize| {
            self.pairs[self.starts[*own]..self.starts[own + 1]]
                .iter()
                .any(|&(_, other)| self.is_on_high_side[other as usize])
        };
        let (between, low) = before.iter().copied().partition(meets_high);
        for &own in high {
            self.is_on_high_side[own] = false;
        }
        [low, between, high.to_vec()]
    }
}
