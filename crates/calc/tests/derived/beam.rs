//! Beams by their moments along the length.
//!
//! The beam is taken as fixed at its start and free at its end, with a force and a moment at the end that
//! make its supports what they are: v″ = −M/(E·I), deflection down and sagging moment positive.

use super::{check, is_in_catalogue};
use haunch_calc::catalogue::{Shape, entries};

const LENGTH: f64 = 3.0;
const RIGIDITY: f64 = 498_150.0;
/// Cells along the length; places of loads lie between two of them.
const CELLS: usize = 3_000;
const EXACT: f64 = 1e-6;
const VALUES: &str = "E = 205 GPa; I = 2430000 mm^4; EI = 498.15 kN*m^2; L = 3 m; w = 4 kN/m; P = 6 kN; a = 1 m; \
                      b = 2 m; M = 5 kN*m; v = 5 mm; x = 0.8 m";

#[derive(Clone, Copy, PartialEq)]
enum Supports {
    Simple,
    Cantilever,
    Fixed,
    Propped,
}

/// A load per length as a function of the distance, forces at places, and a moment at the end.
struct Load {
    along: fn(f64) -> f64,
    forces: &'static [(f64, f64)],
    moment: f64,
    /// How far the end sinks.
    settles: f64,
}

const NONE: Load = Load {
    along: |_| 0.0,
    forces: &[],
    moment: 0.0,
    settles: 0.0,
};
const UNIFORM: Load = Load {
    along: |_| 4e3,
    ..NONE
};
const GROWING: Load = Load {
    along: |x| 4e3 * x / LENGTH,
    ..NONE
};
const FALLING: Load = Load {
    along: |x| 4e3 * (1.0 - x / LENGTH),
    ..NONE
};
const PEAKED: Load = Load {
    along: |x| 4e3 * (1.0 - (2.0 * x / LENGTH - 1.0).abs()),
    ..NONE
};
const MIDDLE: Load = Load {
    forces: &[(1.5, 6e3)],
    ..NONE
};
const TIP: Load = Load {
    forces: &[(3.0, 6e3)],
    ..NONE
};
/// At a from the start.
const ANYWHERE: Load = Load {
    forces: &[(1.0, 6e3)],
    ..NONE
};
const TWO: Load = Load {
    forces: &[(1.0, 6e3), (2.0, 6e3)],
    ..NONE
};
const MOMENT: Load = Load {
    moment: 5e3,
    ..NONE
};
const SETTLED: Load = Load {
    settles: 0.005,
    ..NONE
};

/// Moments, slopes and deflections at the ends of the cells.
struct Beam {
    moments: Vec<f64>,
    slopes: Vec<f64>,
    deflections: Vec<f64>,
    /// The force of the support at the end.
    at_end: f64,
    /// All loads together.
    total: f64,
}

/// The moment of a fixed and free beam under the loads, at a place.
fn cantilever(load: &Load, x: f64) -> f64 {
    // Two points of Gauss for each of many stretches: exact for loads up to the second power, and the
    // peak of a load lies between two stretches.
    let stretches = 60;
    let mut moment = 0.0;
    for at in 0..stretches {
        let whole = LENGTH / f64::from(stretches);
        let from = (whole * f64::from(at)).max(x);
        let to = whole * f64::from(at + 1);
        if to <= x {
            continue;
        }
        let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
        for point in [-1.0 / 3.0_f64.sqrt(), 1.0 / 3.0_f64.sqrt()] {
            let s = middle + half * point;
            moment -= half * (load.along)(s) * (s - x);
        }
    }
    let forces = load.forces.iter().filter(|(at, _)| *at > x);
    moment - forces.map(|(at, force)| force * (at - x)).sum::<f64>()
}

impl Beam {
    fn new(supports: Supports, load: &Load) -> Beam {
        let fixed_and_free = |x: f64| cantilever(load, x);
        let by_force = |x: f64| LENGTH - x;
        let by_moment = |_: f64| 1.0;
        // Deflection and slope at the end from each.
        let own = at_end(fixed_and_free);
        let of_force = at_end(by_force);
        let of_moment = at_end(by_moment);
        let (force, moment) = match supports {
            Supports::Cantilever => (0.0, load.moment),
            // The moment at the start is none.
            Supports::Simple => (-(fixed_and_free(0.0) + load.moment) / LENGTH, load.moment),
            Supports::Propped => (
                (load.settles - own.0 - load.moment * of_moment.0) / of_force.0,
                load.moment,
            ),
            Supports::Fixed => {
                let (p, q) = (load.settles - own.0, -own.1);
                let determinant = of_force.0 * of_moment.1 - of_moment.0 * of_force.1;
                (
                    (p * of_moment.1 - of_moment.0 * q) / determinant,
                    (of_force.0 * q - p * of_force.1) / determinant,
                )
            }
        };
        let at = |x: f64| fixed_and_free(x) + force * by_force(x) + moment;
        let (mut slopes, mut deflections) = integrated(at);
        if supports == Supports::Simple {
            // A slope at the start that brings the end back.
            let back = deflections[CELLS] / LENGTH;
            for (cell, (slope, deflection)) in slopes.iter_mut().zip(&mut deflections).enumerate() {
                *slope -= back;
                *deflection -= back * place(cell);
            }
        }
        let sum: f64 = load.forces.iter().map(|(_, force)| force).sum();
        let along: f64 = (0..CELLS)
            .map(|cell| (load.along)((place(cell) + place(cell + 1)) / 2.0) * LENGTH / CELLS as f64)
            .sum();
        Beam {
            moments: (0..=CELLS).map(|cell| at(place(cell))).collect(),
            slopes,
            deflections,
            at_end: force,
            total: sum + along,
        }
    }

    fn at(values: &[f64], x: f64) -> f64 {
        values[(x / LENGTH * CELLS as f64).round() as usize].abs()
    }

    fn largest(values: &[f64]) -> f64 {
        values.iter().copied().fold(0.0, |a: f64, b| a.max(b.abs()))
    }
}

fn place(cell: usize) -> f64 {
    LENGTH * cell as f64 / CELLS as f64
}

/// Slopes and deflections of a beam that is level at its start.
fn integrated(moment: impl Fn(f64) -> f64) -> (Vec<f64>, Vec<f64>) {
    let width = LENGTH / CELLS as f64;
    let (mut slope, mut deflection) = (0.0, 0.0);
    let (mut slopes, mut deflections) = (vec![0.0], vec![0.0]);
    for cell in 0..CELLS {
        let (start, end) = (place(cell), place(cell + 1));
        let curvature = |x: f64| -moment(x) / RIGIDITY;
        let (first, middle, last) = (
            curvature(start),
            curvature((start + end) / 2.0),
            curvature(end),
        );
        // Both integrals of the parabola through three values.
        deflection += slope * width + width * width * (first + 2.0 * middle) / 6.0;
        slope += width * (first + 4.0 * middle + last) / 6.0;
        slopes.push(slope);
        deflections.push(deflection);
    }
    (slopes, deflections)
}

/// Deflection and slope at the end.
fn at_end(moment: impl Fn(f64) -> f64) -> (f64, f64) {
    let (slopes, deflections) = integrated(moment);
    (deflections[CELLS], slopes[CELLS])
}

/// What of a beam a formula gives.
enum Asked {
    /// The moment at a distance.
    Moment(f64),
    LargestMoment,
    Deflection(f64),
    LargestDeflection,
    Slope(f64),
    /// The reaction at the start and at the end.
    Start,
    End,
    /// The force at the middle for each unit of deflection there, and the same at the end.
    StiffnessInTheMiddle,
    StiffnessAtTheEnd,
}

use Asked::*;
use Supports::*;

#[rustfmt::skip]
const ROWS: &[(&str, Supports, &Load, Asked)] = &[
    ("M = w*L^2/8", Simple, &UNIFORM, LargestMoment),
    ("R_1 = w*L/2", Simple, &UNIFORM, Start),
    ("v = 5*w*L^4/(384*E*I)", Simple, &UNIFORM, LargestDeflection),
    ("theta = w*L^3/(24*E*I)", Simple, &UNIFORM, Slope(0.0)),
    ("M = w*x*(L - x)/2", Simple, &UNIFORM, Moment(0.8)),
    ("v = w*x*(L^3 - 2*L*x^2 + x^3)/(24*E*I)", Simple, &UNIFORM, Deflection(0.8)),
    ("M = P*L/4", Simple, &MIDDLE, LargestMoment),
    ("R_1 = P/2", Simple, &MIDDLE, Start),
    ("v = P*L^3/(48*E*I)", Simple, &MIDDLE, LargestDeflection),
    ("theta = P*L^2/(16*E*I)", Simple, &MIDDLE, Slope(0.0)),
    ("M = P*a*b/L", Simple, &ANYWHERE, LargestMoment),
    ("R_1 = P*b/L", Simple, &ANYWHERE, Start),
    ("v = P*a^2*b^2/(3*E*I*L)", Simple, &ANYWHERE, Deflection(1.0)),
    ("v = P*a*(3*L^2 - 4*a^2)/(24*E*I)", Simple, &TWO, Deflection(1.5)),
    ("M = P*L/3", Simple, &TWO, LargestMoment),
    ("v = 23*P*L^3/(648*E*I)", Simple, &TWO, LargestDeflection),
    ("M = w*L^2/(9*sqrt(3))", Simple, &GROWING, LargestMoment),
    ("R_1 = w*L/3", Simple, &GROWING, End),
    ("R_1 = w*L/6", Simple, &GROWING, Start),
    ("v = 0.006522*w*L^4/(E*I)", Simple, &GROWING, LargestDeflection),
    ("M = w*L^2/12", Simple, &PEAKED, LargestMoment),
    ("R_1 = w*L/4", Simple, &PEAKED, Start),
    ("v = w*L^4/(120*E*I)", Simple, &PEAKED, LargestDeflection),
    ("v = M*L^2/(16*E*I)", Simple, &MOMENT, Deflection(1.5)),
    ("v = M*L^2/(9*sqrt(3)*E*I)", Simple, &MOMENT, LargestDeflection),
    ("theta = M*L/(3*E*I)", Simple, &MOMENT, Slope(3.0)),
    ("theta = M*L/(6*E*I)", Simple, &MOMENT, Slope(0.0)),
    ("k = 48*E*I/L^3", Simple, &MIDDLE, StiffnessInTheMiddle),
    ("M = P*L", Cantilever, &TIP, LargestMoment),
    ("v = P*L^3/(3*E*I)", Cantilever, &TIP, LargestDeflection),
    ("theta = P*L^2/(2*E*I)", Cantilever, &TIP, Slope(3.0)),
    ("M = w*L^2/2", Cantilever, &UNIFORM, LargestMoment),
    ("R_1 = w*L", Cantilever, &UNIFORM, Start),
    ("v = w*L^4/(8*E*I)", Cantilever, &UNIFORM, LargestDeflection),
    ("theta = w*L^3/(6*E*I)", Cantilever, &UNIFORM, Slope(3.0)),
    ("v = M*L^2/(2*E*I)", Cantilever, &MOMENT, LargestDeflection),
    ("theta = M*L/(E*I)", Cantilever, &MOMENT, Slope(3.0)),
    ("M = w*L^2/6", Cantilever, &FALLING, LargestMoment),
    ("v = w*L^4/(30*E*I)", Cantilever, &FALLING, LargestDeflection),
    ("theta = w*L^3/(24*E*I)", Cantilever, &FALLING, Slope(3.0)),
    ("M = w*L^2/3", Cantilever, &GROWING, LargestMoment),
    ("v = 11*w*L^4/(120*E*I)", Cantilever, &GROWING, LargestDeflection),
    ("v = P*a^2*(3*L - a)/(6*E*I)", Cantilever, &ANYWHERE, LargestDeflection),
    ("k = 3*E*I/L^3", Cantilever, &TIP, StiffnessAtTheEnd),
    ("M = w*L^2/12", Fixed, &UNIFORM, Moment(0.0)),
    ("M = w*L^2/24", Fixed, &UNIFORM, Moment(1.5)),
    ("v = w*L^4/(384*E*I)", Fixed, &UNIFORM, LargestDeflection),
    ("M = P*L/8", Fixed, &MIDDLE, LargestMoment),
    ("v = P*L^3/(192*E*I)", Fixed, &MIDDLE, LargestDeflection),
    ("M = P*a*b^2/L^2", Fixed, &ANYWHERE, Moment(0.0)),
    ("M = w*L^2/20", Fixed, &GROWING, Moment(3.0)),
    ("M = w*L^2/30", Fixed, &GROWING, Moment(0.0)),
    ("M = 6*E*I*v/L^2", Fixed, &SETTLED, Moment(0.0)),
    ("k = 192*E*I/L^3", Fixed, &MIDDLE, StiffnessInTheMiddle),
    ("M = w*L^2/8", Propped, &UNIFORM, Moment(0.0)),
    ("R_1 = 3*w*L/8", Propped, &UNIFORM, End),
    ("R_1 = 5*w*L/8", Propped, &UNIFORM, Start),
    ("v = w*L^4/(184.6*E*I)", Propped, &UNIFORM, LargestDeflection),
    ("M = 3*P*L/16", Propped, &MIDDLE, Moment(0.0)),
    ("M = 5*P*L/32", Propped, &MIDDLE, Moment(1.5)),
    ("R_1 = 5*P/16", Propped, &MIDDLE, End),
    ("R_1 = 11*P/16", Propped, &MIDDLE, Start),
    ("v = 7*P*L^3/(768*E*I)", Propped, &MIDDLE, Deflection(1.5)),
    ("v = P*L^3/(48*sqrt(5)*E*I)", Propped, &MIDDLE, LargestDeflection),
    ("M = w*L^2/15", Propped, &FALLING, Moment(0.0)),
    ("M = 3*E*I*v/L^2", Propped, &SETTLED, Moment(0.0)),
];

/// Formulas that are another one with a value put in, or two beams together, each with why.
const BY_OTHERS: &[(&str, &str)] = &[
    ("v = 5*M*L^2/(48*E*I)", "5·w·L⁴/384 with M = w·L²/8"),
    ("v = M*L^2/(12*E*I)", "P·L³/48 with M = P·L/4"),
    (
        "v = M*L^2/(8*E*I)",
        "twice M·L²/16, the moment at both ends",
    ),
    (
        "R_1 = 5*w*L/4",
        "twice 5·w·L/8, the middle support being a fixed end of both spans",
    ),
    (
        "k = 12*E*I/L^3",
        "6·E·I·v/L² at both ends over L for each v",
    ),
    (
        "v = P*a^2*(L + a)/(3*E*I)",
        "P·a³/3 and the slope P·a·L/3 at the support times a",
    ),
    ("f_1 = pi/2*sqrt(E*I/(mu*L^4))", "a vibration"),
    (
        "v = P*b*(L^2 - b^2)^(3/2)/(9*sqrt(3)*E*I*L)",
        "in a test of its own",
    ),
    ("M = 9*w*L^2/128", "in a test of its own"),
];

#[test]
fn beams() {
    for (formula, supports, load, asked) in ROWS {
        assert!(is_in_catalogue(formula), "{formula}");
        let beam = Beam::new(*supports, load);
        let derived = match *asked {
            Moment(x) => Beam::at(&beam.moments, x),
            LargestMoment => Beam::largest(&beam.moments),
            Deflection(x) => Beam::at(&beam.deflections, x),
            LargestDeflection => Beam::largest(&beam.deflections),
            Slope(x) => Beam::at(&beam.slopes, x),
            Start => beam.total - beam.at_end,
            End => beam.at_end,
            StiffnessInTheMiddle => 6e3 / Beam::at(&beam.deflections, 1.5),
            StiffnessAtTheEnd => 6e3 / Beam::at(&beam.deflections, 3.0),
        };
        // Rounded in the books.
        let within = match *formula {
            "v = w*L^4/(184.6*E*I)" | "v = 0.006522*w*L^4/(E*I)" => 3e-4,
            _ => EXACT,
        };
        check(formula, VALUES, derived, within);
    }
}

/// The largest moment in the span, where that over the support is larger; the largest deflection beside a
/// load anywhere.
#[test]
fn beside_the_largest() {
    let propped = Beam::new(Propped, &UNIFORM);
    let sagging = propped.moments.iter().copied().fold(0.0, f64::max);
    check("M = 9*w*L^2/128", VALUES, sagging, EXACT);
    let anywhere = Beam::new(Simple, &ANYWHERE);
    check(
        "v = P*b*(L^2 - b^2)^(3/2)/(9*sqrt(3)*E*I*L)",
        &VALUES.replace("b = 2 m", "b = 1 m"),
        Beam::largest(&anywhere.deflections),
        EXACT,
    );
}

#[test]
fn no_beam_is_left_out() {
    let is_beam = |shape: Shape| {
        matches!(
            shape,
            Shape::Simple | Shape::Cantilever | Shape::Overhang | Shape::Fixed | Shape::Propped
        )
    };
    for entry in entries().filter(|entry| is_beam(entry.shape)) {
        for formula in entry.formulas {
            let derived = ROWS.iter().any(|row| row.0 == *formula);
            let by_others = BY_OTHERS.iter().any(|(own, _)| own == formula);
            assert!(derived || by_others, "{formula}");
        }
    }
}
