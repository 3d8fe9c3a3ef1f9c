//! Plane shapes as chords over their height.

use std::f64::consts::PI;

use super::{check, is_in_catalogue};
use haunch_calc::catalogue::{Shape, entries};

/// Steps of Simpson's rule over each piece.
const STEPS: usize = 4_000;
const EXACT: f64 = 1e-8;
/// The wall of a thin shape over its size.
const THIN_WALL: f64 = 1e-5;
const THIN: f64 = 1e-4;

/// A stretch of height with the length of the chord at each level; negative for a hole.
struct Piece {
    from: f64,
    to: f64,
    chord: Box<dyn Fn(f64) -> f64>,
}

/// A shape that is symmetric about the upright axis, in metres.
struct Outline(Vec<Piece>);

impl Outline {
    fn of(from: f64, to: f64, chord: impl Fn(f64) -> f64 + 'static) -> Outline {
        Outline(vec![Piece {
            from,
            to,
            chord: Box::new(chord),
        }])
    }

    fn and(mut self, other: Outline) -> Outline {
        self.0.extend(other.0);
        self
    }

    fn without(mut self, other: Outline) -> Outline {
        self.0.extend(other.0.into_iter().map(|piece| Piece {
            from: piece.from,
            to: piece.to,
            chord: Box::new(move |y| -(piece.chord)(y)),
        }));
        self
    }

    /// ∫f(y, chord) dy up to a level. The ends of a piece may have an upright tangent, so the step is
    /// that of y = middle − half·cos t.
    fn integral_up_to(&self, level: f64, f: impl Fn(f64, f64) -> f64) -> f64 {
        let of = |piece: &Piece| {
            let to = piece.to.min(level);
            if to <= piece.from {
                return 0.0;
            }
            let (middle, half) = ((piece.from + to) / 2.0, (to - piece.from) / 2.0);
            let at = |t: f64| {
                let y = middle - half * libm::cos(t);
                f(y, (piece.chord)(y)) * half * libm::sin(t)
            };
            simpson(0.0, PI, at)
        };
        self.0.iter().map(of).sum()
    }

    fn integral(&self, f: impl Fn(f64, f64) -> f64) -> f64 {
        self.integral_up_to(f64::INFINITY, f)
    }

    fn area(&self) -> f64 {
        self.integral(|_, chord| chord)
    }

    /// About the level y = 0.
    fn first_moment(&self) -> f64 {
        self.integral(|y, chord| chord * y)
    }

    fn centroid(&self) -> f64 {
        self.first_moment() / self.area()
    }

    fn second_moment_about(&self, axis: f64) -> f64 {
        self.integral(|y, chord| chord * (y - axis) * (y - axis))
    }

    fn second_moment(&self) -> f64 {
        self.second_moment_about(self.centroid())
    }

    /// About the upright axis of symmetry; holes as wide as their chord, in the middle.
    fn second_moment_upright(&self) -> f64 {
        self.integral(|_, chord| chord * chord * chord / 12.0)
    }

    fn top(&self) -> f64 {
        self.0.iter().map(|piece| piece.to).fold(f64::MIN, f64::max)
    }

    fn bottom(&self) -> f64 {
        let froms = self.0.iter().map(|piece| piece.from);
        froms.fold(f64::MAX, f64::min)
    }

    fn section_modulus(&self) -> f64 {
        let centroid = self.centroid();
        let far = (self.top() - centroid).max(centroid - self.bottom());
        self.second_moment() / far
    }

    fn plastic_modulus(&self) -> f64 {
        let half = self.area() / 2.0;
        let (mut low, mut high) = (self.bottom(), self.top());
        for _ in 0..60 {
            let level = (low + high) / 2.0;
            if self.integral_up_to(level, |_, chord| chord) < half {
                low = level;
            } else {
                high = level;
            }
        }
        let axis = (low + high) / 2.0;
        // Both sides have the same area, so that it is the first moment of all less twice that below.
        let below = self.integral_up_to(axis, |y, chord| chord * y);
        self.first_moment() - 2.0 * below
    }

    fn gyration(&self) -> f64 {
        (self.second_moment() / self.area()).sqrt()
    }
}

fn simpson(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let step = (to - from) / STEPS as f64;
    let weight = |at: usize| match at {
        0 | STEPS => 1.0,
        at if at % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=STEPS)
        .map(|at| weight(at) * f(from + at as f64 * step))
        .sum();
    sum * step / 3.0
}

fn rectangle(b: f64, from: f64, to: f64) -> Outline {
    Outline::of(from, to, move |_| b)
}

/// A circle or a part of one, about its centre.
fn circle(radius: f64, from: f64) -> Outline {
    Outline::of(from, radius, move |y| {
        2.0 * (radius * radius - y * y).max(0.0).sqrt()
    })
}

fn ring(outer: f64, inner: f64) -> Outline {
    circle(outer, -outer).without(circle(inner, -inner))
}

fn ellipse(across: f64, up: f64) -> Outline {
    Outline::of(-up, up, move |y| {
        2.0 * across * (1.0 - (y / up) * (y / up)).max(0.0).sqrt()
    })
}

fn triangle(b: f64, h: f64) -> Outline {
    Outline::of(0.0, h, move |y| b * (1.0 - y / h))
}

fn rhombus(b: f64, h: f64) -> Outline {
    let half = h / 2.0;
    Outline::of(-half, 0.0, move |y| b * (1.0 + y / half))
        .and(Outline::of(0.0, half, move |y| b * (1.0 - y / half)))
}

fn hexagon(a: f64) -> Outline {
    let half = a * 3.0_f64.sqrt() / 2.0;
    let slope = 2.0 / 3.0_f64.sqrt();
    Outline::of(-half, 0.0, move |y| 2.0 * a + slope * y)
        .and(Outline::of(0.0, half, move |y| 2.0 * a - slope * y))
}

const VALUES: &str = "b = 40 mm; h = 90 mm; B = 100 mm; H = 160 mm; a = 30 mm; d = 50 mm; D = 60 mm; r = 25 mm; \
                      R = 30 mm; t = 5 mm; e = 120 mm; y = 20 mm";
/// The same with a wall of a hundred thousandth.
const THIN_VALUES: &str = "D = 60 mm; r = 30 mm; a = 60 mm; t = 0.0006 mm";

/// Every formula of a plane shape with what it comes to by integration.
#[rustfmt::skip]
fn rows() -> Vec<(&'static str, f64)> {
    let (b, h, a) = (0.040, 0.090, 0.030);
    let (big_b, big_h) = (0.100, 0.160);
    let (d, outer_d, r, outer_r) = (0.050, 0.060, 0.025, 0.030);
    let whole = || rectangle(b, 0.0, h);
    let half = || rectangle(b, h / 2.0, h);
    let square = || rectangle(a, 0.0, a);
    let diagonal = || rhombus(a * 2.0_f64.sqrt(), a * 2.0_f64.sqrt());
    let round = || circle(r, -r);
    let tube = || ring(outer_r, r);
    let hollow = || rectangle(big_b, -big_h / 2.0, big_h / 2.0).without(rectangle(b, -h / 2.0, h / 2.0));
    let semicircle = || circle(r, 0.0);
    let trapezium = || Outline::of(0.0, h, move |y| b + (a - b) * y / h);
    let parabola = || Outline::of(0.0, h, move |y| b * (1.0 - y / h).max(0.0).sqrt());
    let polar = |shape: &Outline| shape.second_moment() + shape.second_moment_upright();
    // A hole of a ring is as wide as the chord of the inner circle.
    let polar_of_tube = polar(&circle(outer_r, -outer_r)) - polar(&circle(r, -r));
    let about_far = h / 2.0 + 0.120;
    let about_middle = move |shape: Outline| shape.first_moment() - shape.area() * h / 2.0;
    let quarter = || Outline::of(0.0, r, move |y| (r * r - y * y).max(0.0).sqrt());
    vec![
        ("A = b*h", whole().area()),
        ("I = b*h^3/12", whole().second_moment()),
        ("I = b*h^3/3", whole().second_moment_about(0.0)),
        ("I = b*h^3/12 + b*h*e^2", whole().second_moment_about(about_far)),
        ("I_p = b*h*(b^2 + h^2)/12", polar(&whole())),
        ("W = b*h^2/6", whole().section_modulus()),
        ("W_pl = b*h^2/4", whole().plastic_modulus()),
        ("i = h/sqrt(12)", whole().gyration()),
        ("Q = b*h^2/8", about_middle(half())),
        ("Q = b*h^2/2", whole().first_moment()),
        ("Q = b*(h^2/4 - y^2)/2", about_middle(rectangle(b, h / 2.0 + 0.020, h))),
        ("A = a^2", square().area()),
        ("I = a^4/12", diagonal().second_moment()),
        ("W = a^3/6", square().section_modulus()),
        ("W = sqrt(2)*a^3/12", diagonal().section_modulus()),
        ("W_pl = a^3/4", square().plastic_modulus()),
        ("A = b*h/2", triangle(b, h).area()),
        ("ybar = h/3", triangle(b, h).centroid()),
        ("I = b*h^3/36", triangle(b, h).second_moment()),
        ("I = b*h^3/12", triangle(b, h).second_moment_about(0.0)),
        ("I = b*h^3/4", triangle(b, h).second_moment_about(h)),
        ("W = b*h^2/24", triangle(b, h).section_modulus()),
        ("I = b*h^3/48", rhombus(b, h).second_moment()),
        ("W = b*h^2/24", rhombus(b, h).section_modulus()),
        ("W_pl = b*h^2/12", rhombus(b, h).plastic_modulus()),
        ("A = pi*d^2/4", round().area()),
        ("A = pi*r^2", round().area()),
        ("I = pi*d^4/64", round().second_moment()),
        ("I = pi*r^4/4", round().second_moment()),
        ("I_p = pi*d^4/32", polar(&round())),
        ("I_p = pi*r^4/2", polar(&round())),
        ("W = pi*d^3/32", round().section_modulus()),
        ("W = pi*r^3/4", round().section_modulus()),
        ("W_t = pi*d^3/16", polar(&round()) / r),
        ("W_t = pi*r^3/2", polar(&round()) / r),
        ("W_pl = d^3/6", round().plastic_modulus()),
        ("W_pl = 4*r^3/3", round().plastic_modulus()),
        ("i = d/4", round().gyration()),
        ("i = r/2", round().gyration()),
        ("A = pi*(D^2 - d^2)/4", tube().area()),
        ("A = pi*(R^2 - r^2)", tube().area()),
        ("A = pi*(D - t)*t", tube().area()),
        ("A = pi*(d + t)*t", tube().area()),
        ("I = pi*(D^4 - d^4)/64", tube().second_moment()),
        ("I = pi*(R^4 - r^4)/4", tube().second_moment()),
        ("I_p = pi*(D^4 - d^4)/32", polar_of_tube),
        ("I_p = pi*(R^4 - r^4)/2", polar_of_tube),
        ("W = pi*(D^4 - d^4)/(32*D)", tube().section_modulus()),
        ("W = pi*(R^4 - r^4)/(4*R)", tube().section_modulus()),
        ("W_t = pi*(D^4 - d^4)/(16*D)", polar_of_tube / outer_r),
        ("W_t = pi*(R^4 - r^4)/(2*R)", 2.0 * polar_of_tube / outer_d),
        ("W_pl = (D^3 - d^3)/6", tube().plastic_modulus()),
        ("W_pl = 4*(R^3 - r^3)/3", tube().plastic_modulus()),
        ("i = sqrt(D^2 + d^2)/4", tube().gyration()),
        ("i = sqrt(R^2 + r^2)/2", tube().gyration()),
        ("A = B*H - b*h", hollow().area()),
        ("I = (B*H^3 - b*h^3)/12", hollow().second_moment()),
        ("W = (B*H^3 - b*h^3)/(6*H)", hollow().section_modulus()),
        ("W_pl = (B*H^2 - b*h^2)/4", hollow().plastic_modulus()),
        ("A = pi*r^2/2", semicircle().area()),
        ("A = pi*d^2/8", semicircle().area()),
        ("ybar = 4*r/(3*pi)", semicircle().centroid()),
        ("ybar = 2*d/(3*pi)", semicircle().centroid()),
        ("I = pi*r^4/8", semicircle().second_moment_about(0.0)),
        ("I = pi*d^4/128", semicircle().second_moment_about(0.0)),
        ("I = (pi/8 - 8/(9*pi))*r^4", semicircle().second_moment()),
        ("Q = 2*r^3/3", semicircle().first_moment()),
        ("Q = d^3/12", circle(d / 2.0, 0.0).first_moment()),
        ("A = pi*r^2/4", quarter().area()),
        ("I = pi*r^4/16", quarter().second_moment_about(0.0)),
        ("I = (pi/16 - 4/(9*pi))*r^4", quarter().second_moment()),
        ("A = pi*a*b", ellipse(a, b).area()),
        ("A = pi*b*h/4", ellipse(b / 2.0, h / 2.0).area()),
        ("I = pi*a*b^3/4", ellipse(a, b).second_moment()),
        ("I = pi*b*h^3/64", ellipse(b / 2.0, h / 2.0).second_moment()),
        ("W = pi*a*b^2/4", ellipse(a, b).section_modulus()),
        ("W = pi*b*h^2/32", ellipse(b / 2.0, h / 2.0).section_modulus()),
        ("A = (a + b)*h/2", trapezium().area()),
        ("ybar = h*(2*a + b)/(3*(a + b))", trapezium().centroid()),
        ("I = h^3*(a^2 + 4*a*b + b^2)/(36*(a + b))", trapezium().second_moment()),
        ("A = 2*b*h/3", parabola().area()),
        ("A = 3*sqrt(3)*a^2/2", hexagon(a).area()),
        ("I = 5*sqrt(3)*a^4/16", hexagon(a).second_moment()),
    ]
}

/// Thin walls, by shapes whose wall is next to nothing.
#[rustfmt::skip]
fn thin_rows() -> Vec<(&'static str, f64)> {
    let radius = 0.030;
    let wall = radius * 2.0 * THIN_WALL;
    let thin = || ring(radius + wall / 2.0, radius - wall / 2.0);
    let half = || circle(radius + wall / 2.0, 0.0).without(circle(radius - wall / 2.0, 0.0));
    // A thin ring has as much about the upright axis as about the level one.
    let polar = 2.0 * thin().second_moment();
    let a = 0.060;
    let square = || {
        let (outer, inner) = (a + wall, a - wall);
        rectangle(outer, -outer / 2.0, outer / 2.0).without(rectangle(inner, -inner / 2.0, inner / 2.0))
    };
    vec![
        ("A = pi*D*t", thin().area()),
        ("A = 2*pi*r*t", thin().area()),
        ("I = pi*D^3*t/8", thin().second_moment()),
        ("I = pi*r^3*t", thin().second_moment()),
        ("I_p = pi*D^3*t/4", polar),
        ("I_p = 2*pi*r^3*t", polar),
        ("W = pi*D^2*t/4", thin().section_modulus()),
        ("W = pi*r^2*t", thin().section_modulus()),
        ("W_t = pi*D^2*t/2", polar / radius),
        ("W_t = 2*pi*r^2*t", polar / radius),
        ("W_pl = D^2*t", thin().plastic_modulus()),
        ("W_pl = 4*r^2*t", thin().plastic_modulus()),
        ("I = 2*a^3*t/3", square().second_moment()),
        ("A = pi*r*t", half().area()),
        ("A = pi*D*t/2", half().area()),
        ("I = pi*r^3*t/2", half().second_moment_about(0.0)),
        ("I = pi*D^3*t/16", half().second_moment_about(0.0)),
    ]
}

#[test]
fn plane_shapes() {
    for (formula, derived) in rows() {
        assert!(is_in_catalogue(formula), "{formula}");
        check(formula, VALUES, derived, EXACT);
    }
    for (formula, derived) in thin_rows() {
        assert!(is_in_catalogue(formula), "{formula}");
        check(formula, THIN_VALUES, derived, THIN);
    }
}

/// J of a rectangle from the series of its stress function: Timoshenko & Goodier, Theory of Elasticity,
/// section 109 (from memory).
#[test]
fn torsion_of_a_square() {
    let series: f64 = (0..200)
        .map(|k| {
            let n = f64::from(2 * k + 1);
            libm::tanh(n * PI / 2.0) / libm::pow(n, 5.0)
        })
        .sum();
    let constant = (1.0 - 192.0 / libm::pow(PI, 5.0) * series) / 3.0;
    check(
        "J = 0.1406*a^4",
        VALUES,
        constant * libm::pow(0.030, 4.0),
        5e-4,
    );
}

/// Every area, centroid, moment and modulus of a plane shape is derived above.
#[test]
fn no_plane_shape_is_left_out() {
    let derived: Vec<&str> = rows()
        .into_iter()
        .chain(thin_rows())
        .map(|(formula, _)| formula)
        .collect();
    let is_plane = |shape: Shape| {
        let words = [
            "simple beam",
            "cantilever",
            "overhang",
            "beam fixed at both ends",
            "propped cantilever",
        ];
        !words.contains(&shape.words()) && !matches!(shape, Shape::Any | Shape::Column)
    };
    for entry in entries().filter(|entry| is_plane(entry.shape)) {
        for formula in entry.formulas {
            let left = formula.split(" = ").next().unwrap_or("");
            let is_of_bending = matches!(left, "A" | "ybar" | "I" | "W" | "W_pl" | "i" | "Q");
            assert!(!is_of_bending || derived.contains(formula), "{formula}");
        }
    }
}
