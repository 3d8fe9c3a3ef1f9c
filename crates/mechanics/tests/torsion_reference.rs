//! Closed forms of torsion against published values, the source beside each check.
//!
//! Not covered: the torsion constant 5.501e6 mm⁴ that Boresi & Schmidt, ex. 6.7, compute on the
//! way with rounded coefficients 0.308 and 0.333; the stress that follows from it is checked.

use haunch_mechanics::section::{Part, Point, Section, Shape};
use haunch_mechanics::shapes::{Angle, Channel, IShape, Tee, Zed};
use haunch_mechanics::torsion::{
    Cell, OpenShape, Rectangle, Wall, Walls, WallsProblem, circle, ellipse, equilateral_triangle,
    open_strips, saint_venant, tube,
};
use haunch_quantity::typed::{Area, Length, Moment, Ratio, Stress, Typed};
use proptest::prelude::*;
use std::f64::consts::PI;

fn metres(value: f64) -> Length {
    Length::from_si(value)
}

fn mm(value: f64) -> Length {
    metres(value * 1e-3)
}

/// Exact by definition (International yard and pound agreement of 1959).
const INCH: f64 = 0.0254;
const KIP: f64 = 1e3 * 0.453_592_37 * 9.806_65;

#[track_caller]
fn assert_near(found: f64, published: f64, tolerance: f64) {
    let off = (found / published - 1.0).abs();
    assert!(off <= tolerance, "{found}, published {published}");
}

/// Source: Timoshenko's table as reprinted in Beer & Johnston, Mechanics of Materials (table 3.1),
/// and in Roark (table 10.7); part from memory. The second numbers were summed with mpmath 1.4.1.
#[test]
fn table_of_rectangles() {
    let table = [
        (1.0, 0.208, 0.1406, 0.208_165_259_93, 0.140_577_014_96),
        (1.2, 0.219, 0.1661, 0.218_933_545_01, 0.166_118_910_08),
        (1.5, 0.231, 0.1958, 0.230_969_126_89, 0.195_760_708_88),
        (2.0, 0.246, 0.229, 0.245_878_342_02, 0.228_681_677_12),
        (2.5, 0.258, 0.249, 0.257_589_941_56, 0.249_365_074_71),
        (3.0, 0.267, 0.263, 0.267_208_046_18, 0.263_316_931_00),
        (5.0, 0.291, 0.291, 0.291_500_204_38, 0.291_316_754_19),
        (10.0, 0.312, 0.312, 0.312_325_113_76, 0.312_325_037_46),
    ];
    for (ratio, c1, c2, c1_exact, c2_exact) in table {
        let found = Rectangle::new(metres(0.2), metres(0.2 * ratio));
        let cube = 0.2 * 0.2 * 0.2;
        let [modulus, constant] = [
            found.torsion_modulus.si() / (ratio * cube),
            found.torsion_constant.si() / (ratio * cube * 0.2),
        ];
        // Three or four digits, the last one rounded.
        assert!((modulus - c1).abs() <= 5.1e-4, "{modulus}, published {c1}");
        let last = if c2 * 1e3 % 1.0 == 0.0 {
            5.1e-4
        } else {
            5.1e-5
        };
        assert!((constant - c2).abs() <= last, "{constant}, published {c2}");
        assert_near(modulus, c1_exact, 3e-11);
        assert_near(constant, c2_exact, 5e-11);
    }
}

/// Source: Boresi & Schmidt, Advanced Mechanics of Materials, ex. 6.7, p. 226: 27.27 MPa with k =
/// 0.308 and 0.333 for the rectangles; 27.23 MPa with the exact coefficients.
#[test]
fn an_i_of_three_rectangles() {
    let flange = Rectangle::new(mm(266.0), mm(30.0)).torsion_constant;
    let web = Rectangle::new(mm(719.0), mm(16.5)).torsion_constant;
    let stress = Moment::from_si(5000.0) * mm(30.0) / (flange * 2.0 + web);
    assert_near(stress.si() / 1e6, 27.27, 0.00917);
}

/// Source: Beer, Johnston & DeWolf, ex. 3.10, p. 202: 8.35, 11.13 and 6.68 ksi.
#[test]
fn a_rectangular_tube() {
    let inch = |value: f64| metres(value * INCH);
    let torque = Moment::from_si(24.0 * KIP * INCH);
    let ksi = KIP / (INCH * INCH);
    let (a, b) = (inch(3.84), inch(2.34));
    let walls = |one: f64, other: f64| {
        [
            (a, inch(one)),
            (b, inch(one)),
            (a, inch(other)),
            (b, inch(other)),
        ]
    };
    let even = Cell::new(a * b, &walls(0.16, 0.16)).unwrap();
    assert_near(
        even.shear_stress(torque, inch(0.16)).si() / ksi,
        8.35,
        0.0012,
    );
    assert!(even.thinness.is_met());
    let uneven = Cell::new(a * b, &walls(0.12, 0.2)).unwrap();
    let of_wall = |thickness: f64| uneven.shear_stress(torque, inch(thickness)).si() / ksi;
    assert_near(of_wall(0.12), 11.13, 0.000898);
    assert_near(of_wall(0.2), 6.68, 0.0015);

    // Source: Bredt; Roark table 10.7 (from memory): 96 mm × 46 mm × 4 mm has 1.09865104e6 mm⁴.
    let walls = [(mm(96.0), mm(4.0)), (mm(46.0), mm(4.0))].repeat(2);
    let cell = Cell::new(mm(96.0) * mm(46.0), &walls).unwrap();
    assert_near(cell.torsion_constant.si(), 1.09865104e-6, 1e-8);
}

/// Source: Boresi & Schmidt, ex. 6.9, p. 231: 87.96 N·m closed and 5.86 N·m slit, at 70 MPa.
#[test]
fn a_thin_round_tube() {
    let (diameter, thickness) = (mm(20.0), mm(2.0));
    let round = diameter * PI;
    let stress = Stress::from_si(70e6);
    let cell = Cell::new(diameter * diameter * (PI / 4.0), &[(round, thickness)]).unwrap();
    let torque =
        stress / (cell.shear_stress(Moment::from_si(1.0), thickness) / Moment::from_si(1.0));
    assert_near(torque.si(), 87.96, 0.000114);
    let (constant, thinness) = open_strips(&[(round, thickness)]).unwrap();
    assert_near((stress * constant / thickness).si(), 5.86, 0.00171);
    assert!(thinness.is_met());
}

/// Source: Saint-Venant; Timoshenko & Goodier, Roark table 10.7 (from memory): 3118492.7 mm⁴.
#[test]
fn shapes_with_exact_solutions() {
    assert_near(ellipse(mm(50.0), mm(30.0)).si(), 3118492.7e-12, 1e-8);
    assert_near(circle(mm(20.0)).si(), PI / 32.0 * 1.6e-7, 1e-14);
    assert_near(tube(mm(20.0), mm(10.0)).si(), PI / 32.0 * 1.6e-7, 1e-14);
    let inner: f64 = 0.014;
    let hole = inner * inner * inner * inner;
    assert_near(
        tube(mm(20.0), mm(3.0)).si(),
        PI / 32.0 * (1.6e-7 - hole),
        1e-12,
    );
    let triangle = equilateral_triangle(mm(10.0)).si();
    assert_near(triangle, 3.0_f64.sqrt() / 80.0 * 1e-8, 1e-14);
}

fn walls(nodes: &[(f64, f64)], walls: &[(usize, usize, f64)]) -> Walls {
    let node = |&(x, y): &(f64, f64)| Point::new(metres(x), metres(y));
    let wall = |&(from, to, thickness): &(usize, usize, f64)| Wall {
        from,
        to,
        thickness: metres(thickness),
    };
    Walls {
        nodes: nodes.iter().map(node).collect(),
        walls: walls.iter().map(wall).collect(),
    }
}

/// Walls along an arc of a circle in 720 steps, open at its ends.
fn round(radius: f64, from: f64, to: f64) -> Walls {
    let nodes: Vec<(f64, f64)> = (0..=720)
        .map(|step| from + (to - from) * f64::from(step) / 720.0)
        .map(|angle| (radius * libm::cos(angle), radius * libm::sin(angle)))
        .collect();
    let steps: Vec<_> = (0..720).map(|step| (step, step + 1, 0.002)).collect();
    walls(&nodes, &steps)
}

/// Sources: Beer, Johnston & DeWolf, ex. 6.05, p. 417: 1.600 in from the web; Timoshenko,
/// Strength of Materials part I, Roark (from memory): 2R for a slit tube, 4R/π for a semicircle;
/// Timoshenko & Gere (from memory): 5.0571987e6 mm⁶.
#[test]
fn shear_centres_and_warping_of_open_walls() {
    let channel = |b: f64, h: f64, web: f64, flange: f64| {
        let nodes = [(b, h / 2.0), (0.0, h / 2.0), (0.0, -h / 2.0), (b, -h / 2.0)];
        walls(&nodes, &[(0, 1, flange), (1, 2, web), (2, 3, flange)])
            .torsion()
            .unwrap()
    };
    let found = channel(4.0, 6.0, 0.15, 0.15);
    assert_near(-found.shear_centre.x.si(), 1.6, 1e-12);
    assert!(found.shear_centre.y.si().abs() < 1e-12);
    assert_eq!(found.of_cells.si(), 0.0);
    let found = channel(25.0, 50.0, 2.5, 1.5);
    assert_near(found.warping_constant.si(), 5.0571987e6, 1e-8);

    let slit = round(50.0, 0.0, 2.0 * PI).torsion().unwrap();
    assert_near(-slit.shear_centre.x.si(), 100.0, 0.0002);
    let half = round(50.0, -PI / 2.0, PI / 2.0).torsion().unwrap();
    assert_near(half.shear_centre.x.si(), 4.0 * 50.0 / PI, 0.0001);
}

/// Bredt's closed form for two equal cells side by side: the wall between them carries no flow.
#[test]
fn cells() {
    let nodes = [
        (0.0, 0.0),
        (1.0, 0.0),
        (2.0, 0.0),
        (2.0, 1.0),
        (1.0, 1.0),
        (0.0, 1.0),
    ];
    let t = 0.01;
    let sides = [
        (0, 1, t),
        (1, 2, t),
        (2, 3, t),
        (3, 4, t),
        (4, 5, t),
        (5, 0, t),
    ];
    let with_wall = [&sides[..], &[(1, 4, t)]].concat();
    let [one, two] = [&sides[..], &with_wall].map(|own| walls(&nodes, own).torsion().unwrap());
    let bredt = 4.0 * 4.0 * t / 6.0;
    assert_near(one.of_cells.si(), bredt, 1e-12);
    assert_near(two.of_cells.si(), bredt, 1e-12);
    let torque = Moment::from_si(1e3);
    let between = two.shear_stress(6, torque).unwrap().si();
    let strip = torque.si() * t / two.torsion_constant.si();
    assert_near(between, strip, 1e-9);
    let outer = two.shear_stress(0, torque).unwrap().si() - strip;
    assert_near(outer, torque.si() / (2.0 * 2.0 * t), 1e-3);
    assert_eq!(two.shear_stress(7, torque), None);

    // A single cell with the class for one cell.
    let walls: Vec<_> = [(2.0, t), (1.0, t)].repeat(2);
    let walls: Vec<_> = walls
        .into_iter()
        .map(|(l, t)| (metres(l), metres(t)))
        .collect();
    let cell = Cell::new(Area::from_si(2.0), &walls).unwrap();
    assert_near(cell.torsion_constant.si(), bredt, 1e-14);
}

#[test]
fn walls_that_are_refused() {
    let corner = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)];
    let of = |nodes: &[(f64, f64)], own: &[(usize, usize, f64)]| walls(nodes, own).torsion();
    assert_eq!(of(&corner, &[]), Err(WallsProblem::NoWalls));
    let missing = of(&corner, &[(0, 3, 0.1)]);
    assert_eq!(missing, Err(WallsProblem::NoSuchNode { wall: 0 }));
    assert_eq!(
        of(&corner, &[(0, 1, 0.1), (1, 1, 0.1)]),
        Err(WallsProblem::NoLength { wall: 1 })
    );
    assert_eq!(
        of(&corner, &[(0, 1, 0.1), (1, 2, 0.0)]),
        Err(WallsProblem::NoThickness { wall: 1 })
    );
    assert_eq!(of(&corner, &[(0, 1, 0.1)]), Err(WallsProblem::InPieces));
    let line = [(0.0, 0.0), (1.0, 0.5), (2.0, 1.0)];
    let straight = of(&line, &[(0, 1, 0.1), (1, 2, 0.1)]);
    assert_eq!(straight, Err(WallsProblem::Straight));
    let far = [(0.0, 0.0), (1e200, 0.0), (0.0, 1e200)];
    let far = of(&far, &[(0, 1, 0.1), (1, 2, 0.1)]);
    assert_eq!(far, Err(WallsProblem::NotFinite));
    assert!(open_strips(&[]).is_none());
    assert!(Cell::new(Area::from_si(-1.0), &[(mm(1.0), mm(1.0))]).is_none());
    assert!(open_strips(&[(mm(1.0), mm(f64::NAN))]).is_none());
}

#[track_caller]
fn assert_agree(shape: &OpenShape, walls: &Walls, shift: [f64; 2]) {
    let found = walls.torsion().unwrap();
    assert_near(
        shape.torsion_constant.si(),
        found.torsion_constant.si(),
        1e-12,
    );
    let size = 1e-9 * found.area.si().sqrt();
    let off_x = shape.shear_centre.x.si() - found.shear_centre.x.si() - shift[0];
    let off_y = shape.shear_centre.y.si() - found.shear_centre.y.si() - shift[1];
    assert!(
        off_x.abs() < size && off_y.abs() < size,
        "{shape:?} {found:?}"
    );
    let [closed, summed] = [shape.warping_constant.si(), found.warping_constant.si()];
    assert_near(closed, summed, 1e-9);
}

proptest! {
    /// The closed forms against the sectorial coordinate, for any sizes.
    #[test]
    fn closed_forms_are_the_sectorial_ones(
        height in 0.1..1.0_f64, one in 0.05..0.6_f64, other in 0.05..0.6_f64,
        web in 0.002..0.02_f64, flange in 0.002..0.03_f64, thick in 0.002..0.03_f64,
    ) {
        let shape = IShape {
            height: metres(height),
            top_width: metres(one),
            top_thickness: metres(flange),
            bottom_width: metres(other),
            bottom_thickness: metres(thick),
            web_thickness: metres(web),
            root_radius: metres(0.0),
        };
        let h = height - (flange + thick) / 2.0;
        let (a, b) = (one / 2.0, other / 2.0);
        let nodes = [(-b, 0.0), (0.0, 0.0), (b, 0.0), (-a, h), (0.0, h), (a, h)];
        let lines = [(0, 1, thick), (1, 2, thick), (3, 4, flange), (4, 5, flange), (1, 4, web)];
        let shift = [one.max(other) / 2.0, thick / 2.0];
        assert_agree(&shape.thin_walled().unwrap(), &walls(&nodes, &lines), shift);

        let channel = Channel {
            height: metres(height),
            width: metres(one),
            web_thickness: metres(web),
            flange_thickness: metres(flange),
            taper: None,
            root_radius: metres(0.0),
            toe_radius: metres(0.0),
        };
        let (reach, h) = (one - web / 2.0, height - flange);
        let nodes = [(reach, 0.0), (0.0, 0.0), (0.0, h), (reach, h)];
        let lines = [(0, 1, flange), (1, 2, web), (2, 3, flange)];
        let shift = [web / 2.0, flange / 2.0];
        assert_agree(&channel.thin_walled().unwrap(), &walls(&nodes, &lines), shift);

        let zed = Zed {
            height: metres(height),
            width: metres(one),
            web_thickness: metres(web),
            flange_thickness: metres(flange),
            root_radius: metres(0.0),
        };
        let nodes = [(reach, 0.0), (0.0, 0.0), (0.0, h), (-reach, h)];
        let shift = [one - web / 2.0, flange / 2.0];
        assert_agree(&zed.thin_walled().unwrap(), &walls(&nodes, &lines), shift);
    }
}

/// The closed forms come near the numerical solution where walls are thin: torsion and warping
/// within a few per cent, the shear centre within half a thickness.
#[test]
fn thin_shapes_numerically() {
    let t = mm(4.0);
    let zero = mm(0.0);
    let channel = Channel {
        height: mm(200.0),
        width: mm(80.0),
        web_thickness: t,
        flange_thickness: t,
        taper: None,
        root_radius: zero,
        toe_radius: zero,
    };
    let tee = Tee {
        height: mm(120.0),
        width: mm(160.0),
        web_thickness: t,
        flange_thickness: t,
        root_radius: zero,
    };
    let angle = Angle {
        height: mm(150.0),
        width: mm(90.0),
        thickness: t,
        root_radius: zero,
        toe_radius: zero,
    };
    let zed = Zed {
        height: mm(200.0),
        width: mm(80.0),
        web_thickness: t,
        flange_thickness: t,
        root_radius: zero,
    };
    let beam = IShape {
        height: mm(300.0),
        top_width: mm(100.0),
        top_thickness: t,
        bottom_width: mm(160.0),
        bottom_thickness: t,
        web_thickness: t,
        root_radius: zero,
    };
    let shapes = [
        (channel.outline(), channel.thin_walled()),
        (tee.outline(), tee.thin_walled()),
        (angle.outline(), angle.thin_walled()),
        (zed.outline(), zed.thin_walled()),
        (beam.outline(), beam.thin_walled()),
    ];
    for (outline, shape) in shapes {
        let part = Part::material(Shape::Outline(outline.unwrap()));
        let section = Section::new(&[part]).unwrap();
        let found = saint_venant(&section, Ratio::from_si(1e-3)).unwrap();
        let shape = shape.unwrap();
        assert!(shape.thinness.is_met());
        assert_near(
            shape.torsion_constant.si(),
            found.torsion_constant.si(),
            0.02,
        );
        assert_near(
            shape.warping_constant.si(),
            found.warping_constant.si(),
            0.03,
        );
        let x = (shape.shear_centre.x - found.shear_centre.x).si();
        let y = (shape.shear_centre.y - found.shear_centre.y).si();
        assert!(x.abs() < 0.002 && y.abs() < 0.002, "{shape:?} {found:?}");
    }
}
