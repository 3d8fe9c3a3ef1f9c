//! The formulas of the trade, by the letters that they are usually written with: what a product is
//! likelier to be after a repair. They help to rank repairs and to find the place of a slip, and
//! never decide what a name means. The catalogue ([`crate::catalogue`]) names formulas, with their constants
//! and sources; here stands only what products are made of, far more of them, and nothing is claimed.
//!
//! The formulas stand in every textbook on the strength of materials and on structural design; the
//! letters follow ISO 3898 (names and symbols of physical quantities in structural design; from
//! memory) and the habits of the trade (common practice, no source).

use haunch_quantity::Dimension;

use Dimension as D;

/// A letter of [`SHAPES`], its dimension, and the letters and words that are written for it.
pub(super) type Role = (&'static str, Dimension, &'static str);

/// What a letter of [`SHAPES`] stands for: its dimension and the letters and words that are written
/// for it, the usual one first.
pub(super) const ROLES: &[Role] = &[
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
    ("L", D::LENGTH, "L l span length height h a s run len"),
    ("h", D::LENGTH, "h d H t depth height b dep"),
    ("b", D::LENGTH, "b d B t w width h breadth wid"),
    ("t", D::LENGTH, "t s b thickness thk thick wall"),
    ("d", D::LENGTH, "d D dia diameter"),
    ("r", D::LENGTH, "r R c y i radius rad"),
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
pub(super) const SHAPES: &str = "
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
P = P : 2
M = M : 2
w = w
W = W
I = I : 2
p = p
";
