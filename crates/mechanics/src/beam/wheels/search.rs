//! The extremes of a result over all places of a train and all places of the beam.
//!
//! The places of the train are parted where a wheel reaches a place at which anything changes
//! (an end of the beam, a support, a hinge, a step, an end of a load). Between two such places the
//! beam is parted by those places and by the wheels, and on each cell the result is one polynomial
//! in the place along the cell and the place of the train. Cells whose bound is not above the best
//! value found so far are left out, the others are halved (branch and bound), until none is left.

use super::super::diagram::Side;
use super::super::error::BeamError;
use super::super::response::Response;
use super::APART;
use super::influence::{Influence, Placed, Under};
use super::patch::{Basis, Patch, Surface};
use haunch_quantity::typed::{Length, Typed};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// What is found falls short of the bound by at most this share of the largest magnitude of its
/// kind.
const CLOSE: f64 = 1e-11;
/// More halvings than this mean that an extreme cannot be told.
const MOST_HALVINGS: usize = 200_000;
/// Along the way of the train: the cubic of the force's place times the cubic of a deflection.
const DEGREE_OF_TRAIN: usize = 6;

/// A quantity along the beam.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quantity {
    Shear,
    Moment,
    Slope,
    Deflection,
}

impl Quantity {
    /// Its degree along the beam under loads that change linearly.
    fn degree(self) -> usize {
        match self {
            Quantity::Shear => 2,
            Quantity::Moment => 3,
            Quantity::Slope => 4,
            Quantity::Deflection => 5,
        }
    }
}

/// What is to be extreme.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Of {
    /// Anywhere along a part of the beam, by its index.
    Along(Quantity, usize),
    /// At one place, on one side of it.
    At(Quantity, f64, Side),
    /// The reaction of a support, by its index.
    Reaction(usize),
    /// The fixing moment of a support, by its index.
    FixingMoment(usize),
}

impl Of {
    /// Values of one kind are measured against the largest of them.
    fn is_like(self, other: Of) -> bool {
        match (self, other) {
            (Of::Along(a, _) | Of::At(a, ..), Of::Along(b, _) | Of::At(b, ..)) => a == b,
            (Of::Reaction(_), Of::Reaction(_)) | (Of::FixingMoment(_), Of::FixingMoment(_)) => true,
            _ => false,
        }
    }
}

/// The largest (`sign` 1) or the smallest (`sign` −1) of something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Goal {
    pub(super) of: Of,
    pub(super) sign: f64,
}

/// Where a goal is reached.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    pub(super) goal: Goal,
    /// The value times the goal's sign.
    pub(super) value: f64,
    /// The largest magnitude of its kind.
    pub(super) scale: f64,
    pub(super) stop: Stop,
}

/// A place of the train.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stop {
    /// Where the first wheel stands, in m.
    pub(super) place: f64,
    /// The place is the left end of a stretch of the train's way: it is reached from the right.
    at_left: bool,
    /// The place is the right end.
    at_right: bool,
}

impl Stop {
    /// The place itself, and where it is an end of a stretch of the way one just beside it.
    pub(super) fn candidates(&self, beside: f64) -> [Option<f64>; 2] {
        let inward = match (self.at_left, self.at_right) {
            (true, _) => Some(self.place + beside),
            (_, true) => Some(self.place - beside),
            _ => None,
        };
        [Some(self.place), inward]
    }
}

/// A stretch of the train's way on which no wheel reaches a place where anything changes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    from: f64,
    to: f64,
}

impl Way {
    fn at(&self, u: f64) -> f64 {
        if u >= 1.0 {
            self.to
        } else {
            self.from + u * (self.to - self.from)
        }
    }
}

/// A border between cells: at a place, or at a wheel by its distance from the first one.
#[derive(Debug, Clone, Copy)]
enum Border {
    Place(f64),
    Wheel(f64),
}

impl Border {
    fn at(self, train: f64) -> f64 {
        match self {
            Border::Place(x) => x,
            Border::Wheel(distance) => train + distance,
        }
    }
}

/// A piece of a cell that may still hold an extreme.
#[derive(Debug, Clone)]
struct Open<S> {
    bound: f64,
    /// The first comes first where bounds are equal.
    number: usize,
    patch: S,
    way: Way,
    u: (f64, f64),
}

impl<S> PartialEq for Open<S> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<S> Eq for Open<S> {}

impl<S> PartialOrd for Open<S> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<S> Ord for Open<S> {
    fn cmp(&self, other: &Self) -> Ordering {
        let by_bound = self.bound.total_cmp(&other.bound);
        by_bound.then_with(|| other.number.cmp(&self.number))
    }
}

/// The search for one extreme.
#[derive(Debug, Clone)]
pub(super) struct Hunt<S> {
    pub(super) best: f64,
    /// The largest magnitude seen.
    largest: f64,
    /// The largest share of the wheels in it.
    of_wheels: f64,
    /// Way and coordinate on it of the best value.
    place: Option<(Way, f64)>,
    open: BinaryHeap<Open<S>>,
    count: usize,
}

impl<S: Surface> Hunt<S> {
    pub(super) fn new() -> Self {
        Self {
            best: f64::NEG_INFINITY,
            largest: 0.0,
            of_wheels: 0.0,
            place: None,
            open: BinaryHeap::new(),
            count: 0,
        }
    }

    /// Looks at the corners of a patch, and keeps it if it may hold more.
    pub(super) fn add(&mut self, patch: S, way: Way, u: (f64, f64), slack: f64) {
        for (value, at) in patch.corners().into_iter().zip([u.0, u.1]) {
            if value > self.best {
                self.best = value;
                self.place = Some((way, at));
            }
        }
        let bound = patch.bound();
        if bound > self.best + slack {
            self.count += 1;
            self.open.push(Open {
                bound,
                number: self.count,
                patch,
                way,
                u,
            });
        }
    }

    /// Halves what may hold more until nothing does.
    pub(super) fn run(&mut self, slack: f64) -> Result<(), BeamError> {
        let mut halvings = 0;
        while let Some(open) = self.open.pop() {
            if open.bound <= self.best + slack {
                break;
            }
            halvings += 1;
            if halvings > MOST_HALVINGS {
                return Err(BeamError::IllConditioned);
            }
            let along_u = open.patch.bends_along_u();
            let [first, second] = open.patch.halves(along_u);
            let (from, to) = open.u;
            let middle = 0.5 * (from + to);
            let (left, right) = match along_u {
                true => ((from, middle), (middle, to)),
                false => (open.u, open.u),
            };
            self.add(first, open.way, left, slack);
            self.add(second, open.way, right, slack);
        }
        self.open.clear();
        Ok(())
    }

    /// Where the first wheel stands for the best value.
    pub(super) fn stop(&self) -> Result<Stop, BeamError> {
        let (way, u) = self.place.ok_or(BeamError::IllConditioned)?;
        Ok(Stop {
            place: way.at(u),
            at_left: u <= 0.0,
            at_right: u >= 1.0,
        })
    }
}

/// One train in one direction with what acts besides.
pub(super) struct Search<'a> {
    influence: &'a Influence,
    fixed: &'a Response,
    pub(super) factor: f64,
    /// Distance from the first wheel, and load.
    wheels: &'a [(f64, f64)],
    /// Ends of the parts of the beam.
    ends: &'a [f64],
    pub(super) along_train: Basis,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        influence: &'a Influence,
        fixed: &'a Response,
        factor: f64,
        wheels: &'a [(f64, f64)],
        ends: &'a [f64],
    ) -> Self {
        Self {
            influence,
            fixed,
            factor,
            wheels,
            ends,
            along_train: Basis::new(DEGREE_OF_TRAIN),
        }
    }

    /// The largest and the smallest of everything that is asked for.
    pub(super) fn run(&self, goals: &[Of]) -> Result<Vec<Found>, BeamError> {
        let mut hunts: Vec<(Goal, Hunt<Patch>)> = goals
            .iter()
            .flat_map(|of| [1.0, -1.0].map(|sign| Goal { of: *of, sign }))
            .map(|goal| (goal, Hunt::new()))
            .collect();
        let asked = goals.iter().filter_map(|of| match of {
            Of::At(_, x, _) => Some(*x),
            _ => None,
        });
        let places = self.places(asked);
        for way in self.ways(&places) {
            self.look_along(way, &places, &mut hunts);
        }
        let scales: Vec<(f64, f64)> = hunts
            .iter()
            .map(|(goal, _)| {
                let alike = hunts.iter().filter(|(h, _)| h.of.is_like(goal.of));
                alike.fold((0.0_f64, 0.0_f64), |(all, wheels), (_, other)| {
                    (all.max(other.largest), wheels.max(other.of_wheels))
                })
            })
            .collect();
        hunts
            .iter_mut()
            .zip(scales)
            .map(|((goal, hunt), (scale, of_wheels))| {
                // Wheels that are as good as nothing stand equally well anywhere.
                if of_wheels > 0.1 * CLOSE * scale {
                    hunt.run(CLOSE * scale)?;
                }
                let stop = hunt.stop()?;
                if !(hunt.best.is_finite() && scale.is_finite()) {
                    return Err(BeamError::IllConditioned);
                }
                Ok(Found {
                    goal: *goal,
                    value: hunt.best,
                    scale,
                    stop,
                })
            })
            .collect()
    }

    /// Where anything changes, in order along the beam.
    pub(super) fn places(&self, asked: impl Iterator<Item = f64>) -> Vec<f64> {
        let mut places = self.influence.nodes.clone();
        places.extend(self.fixed.shear().places().map(Typed::si));
        places.extend(self.ends);
        places.extend(asked);
        places.sort_by(f64::total_cmp);
        let (length, apart) = (self.influence.length(), self.apart());
        places.dedup_by(|next, kept| *next - *kept <= apart && *next < length);
        places
    }

    pub(super) fn apart(&self) -> f64 {
        APART * self.influence.length()
    }

    /// The stretches of the train's way, the first one with the whole train before the beam.
    pub(super) fn ways(&self, places: &[f64]) -> Vec<Way> {
        let mut stops: Vec<f64> = self
            .wheels
            .iter()
            .flat_map(|(distance, _)| places.iter().map(move |place| place - distance))
            .collect();
        stops.sort_by(f64::total_cmp);
        let Some(first) = stops.first() else {
            return Vec::new();
        };
        let before = Way {
            from: first - self.influence.length(),
            to: *first,
        };
        let between = stops.windows(2).filter_map(|ends| {
            let wide = ends[1] - ends[0] > self.apart();
            wide.then_some(Way {
                from: ends[0],
                to: ends[1],
            })
        });
        [before].into_iter().chain(between).collect()
    }

    /// The wheels that are on the beam, with the train at a place of its way.
    fn on_beam(&self, way: Way, train: f64) -> Vec<Placed> {
        let middle = way.at(0.5);
        let placed = |(distance, down): &(f64, f64)| {
            let x = middle + distance;
            let on_beam = x > 0.0 && x < self.influence.length();
            on_beam.then(|| Placed {
                x: train + distance,
                down: *down,
                stretch: self.influence.stretch(x),
            })
        };
        self.wheels.iter().filter_map(placed).collect()
    }

    /// The train at the places of the basis along a stretch of its way.
    pub(super) fn sampled(&self, way: Way) -> Sampled {
        let trains: Vec<f64> = self.along_train.places.iter().map(|u| way.at(*u)).collect();
        let placed: Vec<Vec<Placed>> = trains.iter().map(|a| self.on_beam(way, *a)).collect();
        let under: Vec<Under> = placed.iter().map(|p| self.influence.under(p)).collect();
        Sampled {
            middle: self.on_beam(way, way.at(0.5)),
            trains,
            placed,
            under,
        }
    }

    /// The parts of the beam between places and wheels, on a stretch of the train's way.
    pub(super) fn cells(&self, way: Way, places: &[f64]) -> Vec<Cell> {
        let mut borders: Vec<(f64, Border)> =
            places.iter().map(|x| (*x, Border::Place(*x))).collect();
        for (distance, _) in self.wheels {
            let x = way.at(0.5) + distance;
            if x > 0.0 && x < self.influence.length() {
                borders.push((x, Border::Wheel(*distance)));
            }
        }
        borders.sort_by(|a, b| a.0.total_cmp(&b.0));
        let between = borders.windows(2).filter_map(|pair| {
            let ((left, from), (right, to)) = (pair[0], pair[1]);
            let middle = 0.5 * (left + right);
            (right - left > self.apart()).then_some(Cell { middle, from, to })
        });
        between.collect()
    }

    fn look_along(&self, way: Way, places: &[f64], hunts: &mut [(Goal, Hunt<Patch>)]) {
        let sampled = self.sampled(way);
        self.look_at_points(way, &sampled, hunts);
        let wanted = |quantity: Quantity| {
            let mut goals = hunts.iter().map(|(goal, _)| goal.of);
            goals.any(|of| matches!(of, Of::Along(other, _) if other == quantity))
        };
        let quantities: Vec<(Quantity, Basis)> =
            [Quantity::Shear, Quantity::Moment, Quantity::Deflection]
                .into_iter()
                .filter(|quantity| wanted(*quantity))
                .map(|quantity| (quantity, Basis::new(quantity.degree())))
                .collect();
        if quantities.is_empty() {
            return;
        }
        for cell in self.cells(way, places) {
            let part = self.ends.partition_point(|end| *end <= cell.middle);
            let part = part.saturating_sub(1);
            for (quantity, along_beam) in &quantities {
                let values = self.values(&cell, *quantity, along_beam, &sampled);
                let patch = Patch::new(&values.all, along_beam, &self.along_train);
                self.put(way, Of::Along(*quantity, part), &values, &patch, hunts);
            }
        }
    }

    /// Reactions, and results at one place.
    fn look_at_points(&self, way: Way, sampled: &Sampled, hunts: &mut [(Goal, Hunt<Patch>)]) {
        let at_one = Basis::new(0);
        let reactions = self.fixed.reactions();
        let goals: Vec<Of> = hunts.iter().step_by(2).map(|(goal, _)| goal.of).collect();
        for of in goals {
            let (fixed, wheels): (f64, Vec<f64>) = match of {
                Of::Along(..) => continue,
                Of::Reaction(support) => {
                    let fixed = reactions.get(support).map_or(0.0, |r| r.force.si());
                    let own = |under: &Under| under.reactions.get(support).map_or(0.0, |r| r.0);
                    (fixed, sampled.under.iter().map(own).collect())
                }
                Of::FixingMoment(support) => {
                    let fixed = reactions.get(support).and_then(|r| r.moment);
                    let fixed = fixed.map_or(0.0, Typed::si);
                    let own = |under: &Under| under.reactions.get(support).map_or(0.0, |r| r.1);
                    (fixed, sampled.under.iter().map(own).collect())
                }
                Of::At(quantity, x, side) => {
                    let fixed = self.fixed_at(quantity, x, side);
                    (fixed, self.at_place(quantity, x, side, sampled))
                }
            };
            let mut values = Values::default();
            for own in wheels {
                values.add(fixed, self.factor * own);
            }
            let patch = Patch::new(&values.all, &at_one, &self.along_train);
            self.put(way, of, &values, &patch, hunts);
        }
    }

    /// What the wheels give on one side of a place, for each place of the train.
    pub(super) fn at_place(
        &self,
        quantity: Quantity,
        x: f64,
        side: Side,
        sampled: &Sampled,
    ) -> Vec<f64> {
        let stretch = match side {
            Side::Before => {
                let nodes = &self.influence.nodes;
                nodes.partition_point(|node| *node < x).saturating_sub(1)
            }
            Side::After => self.influence.stretch(x),
        };
        let own = |i: usize| sampled.value(self.influence, quantity, (stretch, x), x, i);
        (0..sampled.trains.len()).map(own).collect()
    }

    /// The sides of a place that are on the beam.
    pub(super) fn sides(&self, x: f64) -> impl Iterator<Item = Side> {
        let is_on = [x > 0.0, x < self.influence.length()];
        let sides = [Side::Before, Side::After].into_iter().zip(is_on);
        sides.filter_map(|(side, is_on)| is_on.then_some(side))
    }

    pub(super) fn fixed_at(&self, quantity: Quantity, x: f64, side: Side) -> f64 {
        let x = Length::from_si(x);
        match quantity {
            Quantity::Shear => self.fixed.shear().at(x, side).map(Typed::si),
            Quantity::Moment => self.fixed.moment().at(x, side).map(Typed::si),
            Quantity::Slope => self
                .fixed
                .slope()
                .and_then(|d| d.at(x, side))
                .map(Typed::si),
            Quantity::Deflection => {
                let diagram = self.fixed.deflection();
                diagram.and_then(|d| d.at(x, side)).map(Typed::si)
            }
        }
        .unwrap_or(f64::NAN)
    }

    /// The values of a cell at the places of both bases.
    pub(super) fn values(
        &self,
        cell: &Cell,
        quantity: Quantity,
        along_beam: &Basis,
        sampled: &Sampled,
    ) -> Values {
        let fixed = |x: f64| match quantity {
            Quantity::Shear => self.fixed.shear().continued(cell.middle, x),
            Quantity::Moment => self.fixed.moment().continued(cell.middle, x),
            Quantity::Slope => {
                let diagram = self.fixed.slope();
                diagram.map_or(f64::NAN, |d| d.continued(cell.middle, x))
            }
            Quantity::Deflection => {
                let diagram = self.fixed.deflection();
                diagram.map_or(f64::NAN, |d| d.continued(cell.middle, x))
            }
        };
        let stretch = self.influence.stretch(cell.middle);
        let mut values = Values::default();
        for t in &along_beam.places {
            for (index, train) in sampled.trains.iter().enumerate() {
                let x = cell.at(*t, *train);
                let place = (stretch, cell.middle);
                let wheels = sampled.value(self.influence, quantity, place, x, index);
                values.add(fixed(x), self.factor * wheels);
            }
        }
        values
    }

    fn put(
        &self,
        way: Way,
        of: Of,
        values: &Values,
        patch: &Patch,
        hunts: &mut [(Goal, Hunt<Patch>)],
    ) {
        for (goal, hunt) in hunts.iter_mut().filter(|(goal, _)| goal.of == of) {
            let patch = if goal.sign > 0.0 {
                patch.clone()
            } else {
                patch.negated()
            };
            hunt.largest = hunt.largest.max(values.largest);
            hunt.of_wheels = hunt.of_wheels.max(values.of_wheels);
            hunt.add(patch, way, (0.0, 1.0), 0.0);
        }
    }
}

/// A part of the beam between two borders, on one stretch of the train's way.
pub(super) struct Cell {
    /// A place inside, with the train in the middle of its stretch.
    pub(super) middle: f64,
    from: Border,
    to: Border,
}

impl Cell {
    /// A place along the cell, with the train at a place of its way.
    pub(super) fn at(&self, t: f64, train: f64) -> f64 {
        let (from, to) = (self.from.at(train), self.to.at(train));
        if t >= 1.0 { to } else { from + t * (to - from) }
    }
}

/// Values at the places of two bases.
#[derive(Debug, Default)]
pub(super) struct Values {
    pub(super) all: Vec<f64>,
    /// The largest magnitude of all, and of the wheels' share.
    largest: f64,
    of_wheels: f64,
}

impl Values {
    fn add(&mut self, fixed: f64, wheels: f64) {
        let value = fixed + wheels;
        self.all.push(value);
        self.largest = self.largest.max(value.abs());
        self.of_wheels = self.of_wheels.max(wheels.abs());
    }
}

/// The train at the places of the basis along its way.
pub(super) struct Sampled {
    pub(super) trains: Vec<f64>,
    placed: Vec<Vec<Placed>>,
    under: Vec<Under>,
    /// The wheels with the train in the middle: their order does not change along the way.
    middle: Vec<Placed>,
}

impl Sampled {
    /// What the wheels give at `x`, for the train at one of its places. The stretch, and a place
    /// that is on the same side of all wheels as `x` with the train in the middle, say which
    /// polynomial is meant.
    fn value(
        &self,
        influence: &Influence,
        quantity: Quantity,
        (stretch, middle): (usize, f64),
        x: f64,
        index: usize,
    ) -> f64 {
        let (Some(placed), Some(under)) = (self.placed.get(index), self.under.get(index)) else {
            return f64::NAN;
        };
        let before = placed
            .iter()
            .zip(&self.middle)
            .filter_map(|(wheel, at_middle)| {
                (wheel.stretch == stretch && at_middle.x < middle).then_some(wheel)
            });
        let state = influence.state(under, stretch, x, before);
        match quantity {
            Quantity::Shear => state.shear,
            Quantity::Moment => state.moment,
            Quantity::Slope => state.slope,
            Quantity::Deflection => state.deflection,
        }
    }
}
