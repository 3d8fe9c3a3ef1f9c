//! The formulas of the trade, by the letters that they are usually written with: what a product is
//! likelier to be after a repair. They help to rank repairs and to find the place of a slip, and
//! never decide what a name means. The catalogue ([`crate::catalogue`]) names formulas, with their constants
//! and sources; here stands only what products are made of, far more of them, and nothing is claimed.
//!
//! The formulas stand in every textbook on the strength of materials and on structural design; the
//! letters follow ISO 3898 (names and symbols of physical quantities in structural design; from
//! memory) and the habits of the trade (common practice, no source).

use std::sync::LazyLock;

use haunch_quantity::Dimension;

use super::symbols::{is_customary, letter};

use Dimension as D;

/// What a likeness counts in the cost of a repair. In the place of a slip it counts 1.
pub(super) const WEIGHT: f64 = 1.4;
/// What a name that fits its place badly takes from the likeness, at most.
const MISFIT: f64 = 0.35;
/// What a number that is usual in the formula adds to it.
const USUAL_NUMBER: f64 = 0.1;

/// What a letter of [`SHAPES`] stands for: its dimension and the letters and words that are written
/// for it, the usual one first.
const ROLES: &[(&str, Dimension, &str)] = &[
    ("M", D::MOMENT, "M T m"),
    ("T", D::MOMENT, "T M"),
    ("work", D::MOMENT, "work U W"),
    ("V", D::FORCE, "V R Q F H"),
    ("N", D::FORCE, "N P F R O U D S T C"),
    ("P", D::FORCE, "P F Q N W R V G H"),
    ("F", D::FORCE, "F P N T H V R"),
    ("w", D::FORCE_PER_LENGTH, "w q g p"),
    ("q", D::FORCE_PER_LENGTH, "q v flow"),
    ("k", D::FORCE_PER_LENGTH, "k c K stiffness"),
    ("L", D::LENGTH, "L l span length height h a s run"),
    ("h", D::LENGTH, "h d H t depth height b"),
    ("b", D::LENGTH, "b d B t w width h"),
    ("t", D::LENGTH, "t s b thickness"),
    ("d", D::LENGTH, "d D"),
    ("r", D::LENGTH, "r R c y i"),
    ("i", D::LENGTH, "i r"),
    ("y", D::LENGTH, "y z c e x ybar h"),
    ("z", D::LENGTH, "z d h a e arm lever"),
    ("e", D::LENGTH, "e a eccentricity arm lever d"),
    ("a", D::LENGTH, "a b x L h e lever arm"),
    ("s", D::LENGTH, "s spacing gap u"),
    ("u", D::LENGTH, "u s"),
    ("x", D::LENGTH, "x c a"),
    ("v", D::LENGTH, "v w delta δ f u deflection sag drop"),
    ("f_sag", D::LENGTH, "f sag h"),
    ("A", D::AREA, "A a"),
    ("A_m", D::AREA, "A"),
    ("Q", D::FIRST_MOMENT_OF_AREA, "Q S"),
    ("W", D::FIRST_MOMENT_OF_AREA, "W S Z"),
    ("Vol", D::FIRST_MOMENT_OF_AREA, "V volume"),
    ("I", D::SECOND_MOMENT_OF_AREA, "I"),
    ("J", D::SECOND_MOMENT_OF_AREA, "J I"),
    ("C_w", D::WARPING_CONSTANT, "C I"),
    ("sigma", D::STRESS, "sigma σ f s bearing"),
    ("tau", D::STRESS, "tau τ v"),
    ("f", D::STRESS, "f sigma σ tau τ R"),
    ("E", D::STRESS, "E"),
    ("G", D::STRESS, "G"),
    ("p", D::STRESS, "p q g s w pressure"),
    ("gamma", D::FORCE_PER_VOLUME, "gamma γ g weight"),
    ("rho", D::DENSITY, "rho ρ density"),
    ("m", D::MASS, "m mass M"),
    ("m_l", D::MASS_PER_LENGTH, "m mu μ mass"),
    ("g_n", D::ACCELERATION, "g_n g a"),
    ("acc", D::ACCELERATION, "a g_n"),
    ("speed", D::VELOCITY, "v speed V c flow"),
    ("f_n", D::FREQUENCY, "f n omega ω"),
    ("time", D::TIME, "T t"),
    ("kappa", D::CURVATURE, "kappa κ curvature"),
    ("alpha", D::THERMAL_EXPANSION, "alpha α"),
    ("dT", D::TEMPERATURE, "dT T ΔT delta"),
    ("EI", D::FLEXURAL_RIGIDITY, "EI E D K B"),
    ("EA", D::FORCE, "EA"),
    ("D", D::MOMENT, "D K B"),
    (
        "ratio",
        D::RATIO,
        "ratio eta η epsilon ε mu μ phi φ theta θ slope twist slenderness",
    ),
];

/// `left = above / below : numbers`. A left side squared is a root on the right. Plain numbers and
/// ratios are left out; those after the colon are usual beside it.
const SHAPES: &str = "
A = b h
A = d^2 : 4
A = d t
A = A
I = b h^3 : 12 3
I = A y^2
I = A i^2
I = d^4 : 64
I = W y
I = r^3 t
W = b h^2 : 6 4
W = I / y
W = I / d : 2
W = d^3 : 32
W = r^2 t
W = A h
W = A z
Q = A y
Q = b y^2
J = d^4 : 32
J = b t^3 : 3
J = A_m^2 t / u : 4
i^2 = I / A
i = d : 4
y = Q / A
y = A y / A
y = W / A
C_w = I h^2 : 4
w = p s
w = gamma A
w = gamma b h
w = rho A g_n
w = m_l g_n
w = P / L
w = p L
P = p A
P = p b h
P = m g_n
P = m acc
P = w L : 2
P = w s
P = rho Vol g_n
P = gamma Vol
P = gamma A L
P = gamma b h L
P = rho A L g_n
P = rho g_n h^2 b : 2 0.5
P = m speed / time
p = gamma h
p = gamma t
p = rho g_n h
p = rho g_n t
p = rho speed^2 : 2 0.5
p = P / A
p = P / b L
p = w / L
p = w / b
p = P y / b h^2 : 6
p = f t^2 / b^2
w = gamma h^2 : 2 0.5
w = p h
w = rho g_n h^2 : 2 0.5
P = gamma h^3 : 6
P = w h : 2 3 6
P = p h^2
M = w L^2 : 8 2 12
M = P L : 4 8
M = P e
M = P a
M = P a b / L
M = P a^2 b / L^2
M = N z
M = f W
M = A f z
M = f b d^2
M = f b h^2 : 6 4
M = p b L^2 : 8
M = E I / r
M = EI kappa
M = M E I / EI
M = G J / L
M = E I / L : 3 4 6
M = k L^2
M = f A_m t : 2
P = p L^2 : 8 2
P = M / L
P = M / z
P = M / h
P = M / s
P = f A
P = f d t
P = f b h
P = P b / L
P = P L / h
P = E I / L^2
P = EI / L^2
P = E A v / L
P = E A
P = k v
P = w L^2 / f_sag : 8
P = tau b t
P = V Q s / I
P = M y / A
sigma = M / W
sigma = M y / I
sigma = P / A
sigma = P e / W
sigma = M / b h^2 : 6
sigma = P / b h
sigma = P / d t
sigma = P / d^2
sigma = M / A z
sigma = P e y / I
sigma = p r / t
sigma = w / t
sigma = E
sigma = E alpha dT
sigma = E i^2 / L^2
sigma = E I / A L^2
sigma = E t^2 / b^2 : 12
sigma = E t / r
sigma = E y kappa
sigma = f
sigma = P / t^2 : 6
sigma = p a^2 / t^2
tau = V / A
tau = V Q / I b
tau = V Q / I t
tau = V / b d
tau = V / b z
tau = V / h t
tau = V / u d
tau = T r / J
tau = T / A_m t : 2
tau = T / W
tau = T / d^3 : 16
tau = P d / d^3 : 8
tau = G ratio
q = V Q / I
q = w
q = T / A_m : 2
q = V / z
s = F I / V Q
s = F / q
s = A f z / V
v = w L^4 / E I : 384 8
v = w L^4 / EI : 384 8
v = P L^3 / E I : 48 3
v = P L^3 / EI : 48 3
v = M L^2 / E I : 8 2 16
v = M L^2 / EI : 8 48
v = P a^2 b^2 / E I L : 3
v = P a b^2 / E I
v = N L / E A
v = N L / EA
v = P / k
v = P L / G A
v = w L^2 / G A : 8
v = alpha dT L
v = sigma L / E
v = L : 250 300 500 360
v = p a^4 / D : 384
v = f_sag^2 / L : 3 8
ratio = w L^3 / E I : 24 6
ratio = P L^2 / E I : 16 2
ratio = M L / E I
ratio = T L / G J
ratio = w L^3 / EI : 24 6
ratio = P L^2 / EI : 16 2
ratio = sigma / E
ratio = v / L
ratio = L / i
ratio = f / f
ratio = N / N
ratio = M / M
ratio = M / f W
ratio = N / f A
ratio = M / b d^2 f
ratio = A / b d
ratio = P y / M
ratio = E / E
ratio = e / b : 6
ratio = EI / EI
ratio = alpha dT
k = E A / L
k = E I / L^3 : 3 12 48
k = EI / L^3 : 3 12 48
k = P / v
k = G A / L
k = G d^4 / d^3 : 8
k = k
EI = G J
EI = E I
D = E t^3 : 12
EA = E A
kappa = M / E I
kappa = M / EI
kappa = alpha dT / h
x = A f / b f
A = M / f z
A = N / f
A = V s / f z
A = A f / f
W = M / f
I = w L^3 / E
h = L : 15 20
L = L
y = h : 2
e = M / N
a = M / P
z = M / P
e = P L / P
e = w L^2 / P
t^2 = p b^2 / f
t^2 = M / f b
t = P / f b
t = p r / f
f_n^2 = k / m
f_n^2 = E I / m_l L^4
f_n^2 = g_n / v
f_n^2 = EI / m_l L^4
time^2 = m / k
time^2 = L / g_n
speed^2 = g_n h : 2
speed^2 = p / rho : 2
speed = g_n time
m = rho Vol
m = rho A L
m = rho b h L
m = m_l L
m = P / g_n
m_l = rho A
work = m g_n h
work = m speed^2 : 2 0.5
work = k v^2 : 2 0.5
work = F v : 2
F^2 = work k
F^2 = m k speed^2
F = m speed^2 / v
v = m g_n / k
v^2 = m speed^2 / k
M^2 = E I G J / L^2
M^2 = E I P
L = v
";

/// One factor of a shape or of a product: half powers, so that roots can be told, negative below the
/// stroke.
struct Part {
    role: &'static (&'static str, Dimension, &'static str),
    halves: i32,
}

struct Shape {
    left: &'static (&'static str, Dimension, &'static str),
    parts: Vec<Part>,
    numbers: Vec<&'static str>,
}

static ALL: LazyLock<Vec<Shape>> =
    LazyLock::new(|| SHAPES.lines().filter_map(Shape::read).collect());

impl Shape {
    fn read(line: &'static str) -> Option<Shape> {
        let role = |name: &str| ROLES.iter().find(|(known, ..)| *known == name);
        let (formula, numbers) = line.split_once(':').unwrap_or((line, ""));
        let (left, right) = formula.split_once('=')?;
        let (above, below) = right.split_once('/').unwrap_or((right, ""));
        let (left, whole) = match left.trim().strip_suffix("^2") {
            Some(root) => (root, 1),
            None => (left.trim(), 2),
        };
        let mut parts = Vec::new();
        for (side, sign) in [(above, whole), (below, -whole)] {
            for word in side.split_whitespace() {
                let (name, power) = word.split_once('^').unwrap_or((word, "1"));
                let role = role(name)?;
                // A ratio beside the quantities tells nothing.
                if !role.1.is_ratio() {
                    parts.push(Part {
                        role,
                        halves: sign * power.parse::<i32>().ok()?,
                    });
                }
            }
        }
        Some(Shape {
            left: role(left)?,
            parts,
            numbers: numbers.split_whitespace().collect(),
        })
    }
}

/// A factor of a product that is compared with the shapes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Factor<'a> {
    pub(super) name: Name<'a>,
    pub(super) dimension: Dimension,
    pub(super) halves: i32,
}

/// What is known of a factor's name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Name<'a> {
    Is(&'a str),
    /// A sum, a call or a quantity.
    None,
    /// The name that would be right, whichever it is.
    Right,
}

/// How well a name fits a role of its dimension.
fn fit(role: &(&str, Dimension, &str), name: Name<'_>) -> f64 {
    let name = match name {
        Name::Is(name) => name,
        Name::None => return 0.6,
        Name::Right => return 0.8,
    };
    let letter = letter(name);
    let without_axis = letter.strip_suffix(['x', 'y', 'z']).unwrap_or(letter);
    let mut words = role.2.split(' ').enumerate();
    let found = words.find(|(_, word)| *word == letter || *word == without_axis || *word == name);
    match found {
        Some((0, _)) => 1.0,
        Some((1 | 2, _)) => 0.9,
        Some(_) => 0.8,
        None if is_customary(name, role.1).is_some() => 0.2,
        None => 0.5,
    }
}

/// How much a product looks like one of the trade, from 0 to 1 and a little more for its numbers: the best
/// of all shapes.
pub(super) fn likeness(factors: &[Factor<'_>], left: Option<&str>, numbers: &[&str]) -> f64 {
    let mut best = 0.0_f64;
    for shape in ALL.iter().filter(|s| s.parts.len() == factors.len()) {
        if let Some(fits) = alike(shape, factors, left, numbers) {
            best = best.max(fits);
        }
    }
    best
}

fn alike(
    shape: &Shape,
    factors: &[Factor<'_>],
    left: Option<&str>,
    numbers: &[&str],
) -> Option<f64> {
    let mut taken = 0_u32;
    let mut misfits = left.map_or(0.0, |left| 1.0 - fit(shape.left, Name::Is(left)));
    for part in &shape.parts {
        let mut best: Option<(f64, usize)> = None;
        for (index, factor) in factors.iter().enumerate() {
            let is_free = taken & (1 << index) == 0;
            if is_free && factor.halves == part.halves && factor.dimension == part.role.1 {
                let fits = fit(part.role, factor.name);
                if best.is_none_or(|(most, _)| fits > most) {
                    best = Some((fits, index));
                }
            }
        }
        let (fits, index) = best?;
        taken |= 1 << index;
        misfits += 1.0 - fits;
    }
    let is_usual = shape.numbers.iter().any(|number| numbers.contains(number));
    let usual = if is_usual { USUAL_NUMBER } else { 0.0 };
    Some((1.0 - MISFIT * misfits + usual).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shape_is_right() {
        let mut wrong = Vec::new();
        for line in SHAPES.lines().filter(|line| !line.trim().is_empty()) {
            let shape = Shape::read(line);
            let found = shape.as_ref().and_then(|shape| {
                shape.parts.iter().try_fold(D::RATIO, |product, part| {
                    let power = haunch_quantity::Rational::new(part.halves, 2)?;
                    product.checked_multiply(part.role.1.checked_power(power)?)
                })
            });
            if found.is_none() || found != shape.map(|shape| shape.left.1) {
                wrong.push(line);
            }
        }
        assert_eq!(wrong, [""; 0]);
    }

    #[test]
    fn the_right_partner_is_the_likelier() {
        let factor = |name, dimension, halves| Factor {
            name: Name::Is(name),
            dimension,
            halves,
        };
        let stress = |below| {
            let moment = factor("M_d", D::MOMENT, 2);
            let modulus = factor(below, D::FIRST_MOMENT_OF_AREA, -2);
            likeness(&[moment, modulus], Some("sigma"), &[])
        };
        assert!(stress("W_y") > stress("Q"));
        assert!(stress("Q") > 0.5);
    }
}
