//! Shapes by their dimensions: closed forms, and sizes that are impossible.

use haunch_mechanics::section::{Forces, Outline, Part, Point, Section, Shape, Side};
use haunch_mechanics::shapes::{
    Angle, Channel, Ellipse, HollowRectangle, IShape, Pipe, QuarterFillet, SizeName, SizeProblem,
    Taper, Tee, Trapezium, Triangle, Zed,
};
use haunch_quantity::typed::{Length, Moment, Ratio, Typed};
use proptest::prelude::*;
use std::f64::consts::PI;

fn mm(value: f64) -> Length {
    Length::from_si(value * 1e-3)
}

fn section(outline: Outline) -> Section {
    let parts = [Part::material(Shape::Outline(outline))];
    Section::new(&parts).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// Area, centroid and second moments about the centroid, in powers of mm.
fn properties(outline: Outline) -> [f64; 6] {
    let section = section(outline);
    let (centroid, second) = (section.centroid(), section.second_moments());
    [
        section.area().si() * 1e6,
        centroid.x.si() * 1e3,
        centroid.y.si() * 1e3,
        second.ixx.si() * 1e12,
        second.iyy.si() * 1e12,
        second.ixy.si() * 1e12,
    ]
}

/// Pieces of known properties put together by the parallel-axis theorem.
#[derive(Default)]
struct Pieces {
    area: f64,
    x: f64,
    y: f64,
    xx: f64,
    yy: f64,
    xy: f64,
}

impl Pieces {
    /// Area, centroid and own second moments ∫x², ∫y², ∫xy about it.
    fn with(mut self, sign: f64, area: f64, place: [f64; 2], own: [f64; 3]) -> Self {
        let area = sign * area;
        self.area += area;
        self.x += area * place[0];
        self.y += area * place[1];
        self.xx += sign * own[0] + area * place[0] * place[0];
        self.yy += sign * own[1] + area * place[1] * place[1];
        self.xy += sign * own[2] + area * place[0] * place[1];
        self
    }

    fn rectangle(self, left: f64, bottom: f64, width: f64, height: f64) -> Self {
        let own = [
            height * width * width * width / 12.0,
            width * height * height * height / 12.0,
            0.0,
        ];
        let place = [left + width / 2.0, bottom + height / 2.0];
        self.with(1.0, width * height, place, own)
    }

    /// What fills (or, with sign −1, rounds off) a right-angled corner, towards (sx, sy).
    ///
    /// Of a quarter fillet: A = (1 − π/4)r², centroid (10 − 3π)/(12 − 3π)·r from the corner,
    /// ∫x² about the corner (1 − 5π/16)r⁴, ∫xy about the corner (19/24 − π/4)r⁴. From the square
    /// less the quarter circle about its centre: ∫x² = πr⁴/16, ∫x = r³/3, ∫xy = r⁴/8.
    fn fillet(self, sign: f64, corner: [f64; 2], radius: f64, towards: [f64; 2]) -> Self {
        let area = (1.0 - PI / 4.0) * radius * radius;
        let arm = (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI) * radius;
        let fourth = radius * radius * radius * radius;
        let square = (1.0 - 5.0 * PI / 16.0) * fourth - area * arm * arm;
        let product = (19.0 / 24.0 - PI / 4.0) * fourth - area * arm * arm;
        let place = [corner[0] + towards[0] * arm, corner[1] + towards[1] * arm];
        let own = [square, square, towards[0] * towards[1] * product];
        self.with(sign, area, place, own)
    }

    fn properties(&self) -> [f64; 6] {
        let (x, y) = (self.x / self.area, self.y / self.area);
        [
            self.area,
            x,
            y,
            self.yy - self.area * y * y,
            self.xx - self.area * x * x,
            self.xy - self.area * x * y,
        ]
    }
}

#[track_caller]
fn assert_same(found: [f64; 6], expected: [f64; 6]) {
    let scale = [
        expected[0],
        expected[0].sqrt(),
        expected[0].sqrt(),
        expected[3] + expected[4],
        expected[3] + expected[4],
        expected[3] + expected[4],
    ];
    for ((found, expected), scale) in found.into_iter().zip(expected).zip(scale) {
        assert!(
            (found - expected).abs() <= 1e-10 * scale,
            "{found} instead of {expected}"
        );
    }
}

#[derive(Debug)]
struct Sizes {
    height: f64,
    widths: [f64; 2],
    thicknesses: [f64; 2],
    web: f64,
    /// Shares of the room for root and toe.
    shares: [f64; 2],
}

fn sizes() -> impl Strategy<Value = Sizes> {
    let share = || prop_oneof![Just(0.0), 0.05..1.0_f64, Just(1.0)];
    (
        50.0..1000.0_f64,
        (0.2..1.5_f64, 0.2..1.5_f64),
        (0.01..0.3_f64, 0.01..0.3_f64),
        0.01..0.15_f64,
        (share(), share()),
    )
        .prop_map(|(height, widths, thicknesses, web, shares)| Sizes {
            height,
            widths: [widths.0 * height, widths.1 * height],
            thicknesses: [thicknesses.0 * height, thicknesses.1 * height],
            web: web * height,
            shares: [shares.0, shares.1],
        })
}

proptest! {
    #[test]
    fn i_shape_is_plates_and_fillets(sizes in sizes()) {
        let Sizes { height, widths: [top, bottom], thicknesses: [t_top, t_bottom], web, .. } = sizes;
        let clear = height - t_top - t_bottom;
        let room = ((top.min(bottom) - web) / 2.0).min(clear / 2.0);
        let radius = sizes.shares[0] * room;
        let shape = IShape {
            height: mm(height),
            top_width: mm(top),
            top_thickness: mm(t_top),
            bottom_width: mm(bottom),
            bottom_thickness: mm(t_bottom),
            web_thickness: mm(web),
            root_radius: mm(radius),
        };
        let middle = top.max(bottom) / 2.0;
        let (left, right) = (middle - web / 2.0, middle + web / 2.0);
        let under = height - t_top;
        let expected = Pieces::default()
            .rectangle(middle - bottom / 2.0, 0.0, bottom, t_bottom)
            .rectangle(left, t_bottom, web, clear)
            .rectangle(middle - top / 2.0, under, top, t_top)
            .fillet(1.0, [left, t_bottom], radius, [-1.0, 1.0])
            .fillet(1.0, [right, t_bottom], radius, [1.0, 1.0])
            .fillet(1.0, [left, under], radius, [-1.0, -1.0])
            .fillet(1.0, [right, under], radius, [1.0, -1.0]);
        assert_same(properties(shape.outline().unwrap()), expected.properties());
    }

    #[test]
    fn tee_is_plates_and_fillets(sizes in sizes()) {
        let Sizes { height, widths: [width, _], thicknesses: [flange, _], web, .. } = sizes;
        let under = height - flange;
        let radius = sizes.shares[0] * ((width - web) / 2.0).min(under);
        let shape = Tee {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(web),
            flange_thickness: mm(flange),
            root_radius: mm(radius),
        };
        let (left, right) = ((width - web) / 2.0, (width + web) / 2.0);
        let expected = Pieces::default()
            .rectangle(left, 0.0, web, under)
            .rectangle(0.0, under, width, flange)
            .fillet(1.0, [left, under], radius, [-1.0, -1.0])
            .fillet(1.0, [right, under], radius, [1.0, -1.0]);
        assert_same(properties(shape.outline().unwrap()), expected.properties());
    }

    #[test]
    fn parallel_channel_is_plates_and_fillets(sizes in sizes()) {
        let Sizes { height, widths: [width, _], thicknesses: [flange, _], web, .. } = sizes;
        let toe = sizes.shares[1] * flange.min((width - web) / 2.0);
        let root = sizes.shares[0] * (height / 2.0 - flange).min(width - web - toe);
        let shape = Channel {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(web),
            flange_thickness: mm(flange),
            taper: None,
            root_radius: mm(root),
            toe_radius: mm(toe),
        };
        let under = height - flange;
        let expected = Pieces::default()
            .rectangle(0.0, 0.0, width, flange)
            .rectangle(0.0, flange, web, height - 2.0 * flange)
            .rectangle(0.0, under, width, flange)
            .fillet(1.0, [web, flange], root, [1.0, 1.0])
            .fillet(1.0, [web, under], root, [1.0, -1.0])
            .fillet(-1.0, [width, flange], toe, [-1.0, -1.0])
            .fillet(-1.0, [width, under], toe, [-1.0, 1.0]);
        assert_same(properties(shape.outline().unwrap()), expected.properties());
    }

    #[test]
    fn angle_is_plates_and_fillets(sizes in sizes()) {
        let Sizes { height, widths: [width, _], web: thickness, .. } = sizes;
        let shorter = height.min(width) - thickness;
        let toe = sizes.shares[1] * thickness.min(shorter);
        let root = sizes.shares[0] * (shorter - toe);
        let shape = Angle {
            height: mm(height),
            width: mm(width),
            thickness: mm(thickness),
            root_radius: mm(root),
            toe_radius: mm(toe),
        };
        let expected = Pieces::default()
            .rectangle(0.0, 0.0, width, thickness)
            .rectangle(0.0, thickness, thickness, height - thickness)
            .fillet(1.0, [thickness, thickness], root, [1.0, 1.0])
            .fillet(-1.0, [width, thickness], toe, [-1.0, -1.0])
            .fillet(-1.0, [thickness, height], toe, [-1.0, -1.0]);
        assert_same(properties(shape.outline().unwrap()), expected.properties());
    }

    #[test]
    fn zed_is_plates_and_fillets(sizes in sizes()) {
        let Sizes { height, widths: [width, _], thicknesses: [flange, _], web, .. } = sizes;
        let under = height - flange;
        let radius = sizes.shares[0] * (width - web).min(under - flange);
        let shape = Zed {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(web),
            flange_thickness: mm(flange),
            root_radius: mm(radius),
        };
        let left = width - web;
        let expected = Pieces::default()
            .rectangle(left, 0.0, width, flange)
            .rectangle(left, flange, web, under - flange)
            .rectangle(0.0, under, width, flange)
            .fillet(1.0, [width, flange], radius, [1.0, 1.0])
            .fillet(1.0, [left, under], radius, [-1.0, -1.0]);
        assert_same(properties(shape.outline().unwrap()), expected.properties());
    }

    #[test]
    fn hollow_rectangle_is_a_rectangle_less_a_rectangle(sizes in sizes()) {
        let Sizes { height, widths: [width, _], thicknesses: [flange, _], web, .. } = sizes;
        let (hole_width, hole_height) = (width - 2.0 * web, height - 2.0 * flange);
        prop_assume!(hole_width > 0.01 * width);
        let inner = sizes.shares[0] * hole_width.min(hole_height) / 2.0;
        // The arcs do not touch below this radius, see the test of the limits.
        let outer = sizes.shares[1] * (width.min(height) / 2.0).min(inner + web + flange);
        let shape = HollowRectangle {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(web),
            flange_thickness: mm(flange),
            outer_radius: mm(outer),
            inner_radius: mm(inner),
        };
        let mut expected = Pieces::default().rectangle(0.0, 0.0, width, height);
        let own = [
            hole_height * hole_width * hole_width * hole_width / 12.0,
            hole_width * hole_height * hole_height * hole_height / 12.0,
            0.0,
        ];
        let middle = [width / 2.0, height / 2.0];
        expected = expected.with(-1.0, hole_width * hole_height, middle, own);
        for [x, y] in [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]] {
            let towards = [1.0 - 2.0 * x, 1.0 - 2.0 * y];
            let hole = [web + x * hole_width, flange + y * hole_height];
            expected = expected
                .fillet(-1.0, [x * width, y * height], outer, towards)
                .fillet(1.0, hole, inner, towards);
        }
        assert_same(properties(shape.outline().unwrap()), expected.properties());
    }

    /// A sound outline or a named size, never a shape that crosses itself.
    #[test]
    fn a_channel_is_sound_or_refused(
        height in 20.0..400.0_f64, width in 10.0..200.0_f64, web in 1.0..30.0_f64,
        flange in 1.0..40.0_f64, slope in 0.0..0.3_f64, at in 0.0..1.0_f64,
        root in 0.0..40.0_f64, toe in 0.0..20.0_f64,
    ) {
        let shape = Channel {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(web),
            flange_thickness: mm(flange),
            taper: Some(Taper { slope: Ratio::from_si(slope), measured_at: mm(at * width) }),
            root_radius: mm(root),
            toe_radius: mm(toe),
        };
        match shape.outline() {
            Ok(outline) => {
                let section = section(outline);
                let bounds = section.bounds();
                prop_assert!((bounds.width().si() - width * 1e-3).abs() < 1e-12);
                prop_assert!((bounds.depth().si() - height * 1e-3).abs() < 1e-12);
                let (top, bottom) = (section.section_modulus(Side::Top), section.section_modulus(Side::Bottom));
                prop_assert!((top.si() - bottom.si()).abs() < 1e-10 * top.si());
            }
            Err(SizeProblem::MoreThan { size: SizeName::RootRadius, limit }) => {
                // The limit itself is possible, unless there is none.
                if limit > 0.0 {
                    let fitting = Channel { root_radius: Length::from_si(limit), ..shape };
                    prop_assert!(fitting.outline().is_ok());
                }
            }
            Err(_) => {}
        }
    }

    #[test]
    fn a_hollow_rectangle_is_sound_or_refused(
        height in 20.0..400.0_f64, width in 20.0..200.0_f64, web in 1.0..30.0_f64,
        flange in 1.0..30.0_f64, outer in 0.0..100.0_f64, inner in 0.0..60.0_f64,
    ) {
        let shape = HollowRectangle {
            height: mm(height),
            width: mm(width),
            web_thickness: mm(web),
            flange_thickness: mm(flange),
            outer_radius: mm(outer),
            inner_radius: mm(inner),
        };
        match shape.outline() {
            Ok(outline) => prop_assert!(section(outline).area().si() > 0.0),
            Err(SizeProblem::NotLessThan { size: SizeName::OuterRadius, limit }) => {
                let fitting = HollowRectangle { outer_radius: Length::from_si(limit * 0.999), ..shape };
                prop_assert!(section(fitting.outline().unwrap()).area().si() > 0.0);
            }
            Err(_) => {}
        }
    }
}

#[test]
fn small_shapes() {
    let triangle = Triangle {
        width: mm(60.0),
        height: mm(90.0),
        apex: mm(20.0),
    };
    // Common practice: A = bh/2, centroid at h/3 and (b + a)/3, I = bh³/36,
    // hb(b² − ab + a²)/36, hb·h(2a − b)/72.
    let (b, h, a) = (60.0, 90.0, 20.0);
    let expected = [
        b * h / 2.0,
        (b + a) / 3.0,
        h / 3.0,
        b * h * h * h / 36.0,
        h * b * (b * b - a * b + a * a) / 36.0,
        b * h * h * (2.0 * a - b) / 72.0,
    ];
    assert_same(properties(triangle.outline().unwrap()), expected);

    let fillet = QuarterFillet { radius: mm(12.0) };
    let expected = Pieces::default().fillet(1.0, [0.0, 0.0], 12.0, [1.0, 1.0]);
    assert_same(properties(fillet.outline().unwrap()), expected.properties());

    let pipe = Pipe {
        diameter: mm(100.0),
        thickness: mm(10.0),
    };
    let second = PI / 64.0 * (100.0 * 100.0 * 100.0 * 100.0 - 80.0 * 80.0 * 80.0 * 80.0);
    let area = PI / 4.0 * (100.0 * 100.0 - 80.0 * 80.0);
    let expected = [area, 50.0, 50.0, second, second, 0.0];
    assert_same(properties(pipe.outline().unwrap()), expected);
}

#[test]
fn the_impossible_size_is_named() {
    let beam = IShape::with_equal_flanges(mm(300.0), mm(150.0), mm(7.0), mm(11.0), mm(15.0));
    let limit = |problem: Result<Outline, SizeProblem>| match problem.unwrap_err() {
        SizeProblem::NotLessThan { size, limit } | SizeProblem::MoreThan { size, limit } => {
            (size, (limit * 1e9).round() / 1e6)
        }
        other => panic!("{other:?}"),
    };
    let with = |change: fn(&mut IShape)| {
        let mut changed = beam;
        change(&mut changed);
        changed.outline()
    };
    assert_eq!(
        limit(with(|own| own.root_radius = mm(71.6))),
        (SizeName::RootRadius, 71.5)
    );
    assert_eq!(
        limit(with(|own| own.web_thickness = mm(150.0))),
        (SizeName::WebThickness, 150.0)
    );
    assert_eq!(
        limit(with(|own| own.bottom_thickness = mm(289.0))),
        (SizeName::BottomThickness, 289.0)
    );
    assert_eq!(
        with(|own| own.root_radius = mm(-1.0)),
        Err(SizeProblem::Negative(SizeName::RootRadius))
    );
    assert_eq!(
        with(|own| own.height = mm(0.0)),
        Err(SizeProblem::NotPositive(SizeName::Height))
    );
    assert_eq!(
        with(|own| own.top_width = mm(f64::NAN)),
        Err(SizeProblem::NotFinite(SizeName::TopWidth))
    );
    assert_eq!(
        with(|own| own.height = mm(f64::NAN)).unwrap_err().size(),
        SizeName::Height
    );

    let box_shape =
        HollowRectangle::with_equal_walls(mm(100.0), mm(100.0), mm(5.0), mm(30.0), mm(5.0));
    // R < r + (2 + √2)t for equal walls.
    assert_eq!(
        limit(box_shape.outline()),
        (SizeName::OuterRadius, 22.071068)
    );

    let steep = Channel {
        height: mm(100.0),
        width: mm(50.0),
        web_thickness: mm(6.0),
        flange_thickness: mm(5.0),
        taper: Some(Taper {
            slope: Ratio::from_si(0.2),
            measured_at: mm(25.0),
        }),
        root_radius: mm(0.0),
        toe_radius: mm(0.0),
    };
    assert_eq!(
        steep.outline(),
        Err(SizeProblem::NotLessThan {
            size: SizeName::Slope,
            limit: 0.005 / 0.025
        })
    );

    let angle = Angle {
        height: mm(50.0),
        width: mm(30.0),
        thickness: mm(5.0),
        root_radius: mm(22.0),
        toe_radius: mm(4.0),
    };
    assert_eq!(limit(angle.outline()), (SizeName::RootRadius, 21.0));
    let tee = Tee {
        height: mm(50.0),
        width: mm(30.0),
        web_thickness: mm(5.0),
        flange_thickness: mm(50.0),
        root_radius: mm(0.0),
    };
    assert_eq!(limit(tee.outline()), (SizeName::FlangeThickness, 50.0));
    let pipe = Pipe {
        diameter: mm(20.0),
        thickness: mm(10.0),
    };
    assert_eq!(limit(pipe.outline()), (SizeName::Thickness, 10.0));
    let flat = Triangle {
        width: mm(20.0),
        height: mm(0.0),
        apex: mm(0.0),
    };
    assert_eq!(
        flat.outline(),
        Err(SizeProblem::NotPositive(SizeName::Height))
    );
}

/// Young & Budynas, Roark's Formulas, 7th ed., table A.1 (from memory): A = πab, I = πab³/4; the
/// plastic modulus is 4/3·ab². Turned by any angle, second moments and depth follow the closed form.
#[test]
fn ellipse_of_any_proportion_and_angle() {
    let zero = Point::new(mm(0.0), mm(0.0));
    for proportion in [0.05, 0.3, 0.7, 1.0, 1.4, 4.0, 9.0, 20.0] {
        for degrees in [0.0, 1.0, 30.0, 45.0, 90.0, 137.0] {
            let (a, b) = (40.0 * proportion, 40.0);
            let ellipse = Ellipse {
                width: mm(2.0 * a),
                height: mm(2.0 * b),
            };
            let drawn = ellipse.shape().expect("possible sizes");
            let turn = degrees * PI / 180.0;
            let outline = drawn.outline().expect("a sound outline");
            let section = section(outline.turned(Ratio::from_si(turn), zero));
            let second = section.second_moments();
            let (level, upright) = (PI * a * b * b * b / 4.0, PI * b * a * a * a / 4.0);
            let (sine, cosine) = (libm::sin(turn), libm::cos(turn));
            let ixx = level * cosine * cosine + upright * sine * sine;
            let ixy = (upright - level) * sine * cosine;
            let (up, across) = (a * sine, b * cosine);
            let depth = 2.0 * (up * up + across * across).sqrt();
            for (found, expected, scale) in [
                (section.area().si() * 1e6, PI * a * b, PI * a * b),
                (second.ixx.si() * 1e12, ixx, ixx),
                (second.ixy.si() * 1e12, ixy, level + upright),
                (section.bounds().depth().si() * 1e3, depth, 5.0 * a.max(b)),
            ] {
                assert!(
                    (found - expected).abs() <= 2e-6 * scale,
                    "{proportion} at {degrees}°: {found} instead of {expected}"
                );
            }
            if degrees == 0.0 {
                let modulus = section.plastic_x().expect("one material").modulus.si() * 1e9;
                let expected = 4.0 / 3.0 * a * b * b;
                assert!((modulus / expected - 1.0).abs() <= 2e-6, "{modulus}");
                let forces = Forces::bending(Moment::from_si(1.0));
                let found = section.extreme_stresses(&forces).expect("a section");
                let stress = found.greatest.stress.si() * 1e-9;
                assert!((stress * level / b - 1.0).abs() <= 2e-6, "{stress}");
            }
        }
    }
}

/// One axis of an ellipse holds the other 20 times at most.
#[test]
fn slender_ellipse() {
    let of = |width: f64, height: f64| {
        Ellipse {
            width: mm(width),
            height: mm(height),
        }
        .shape()
    };
    assert!(of(200.0, 10.0).is_ok());
    let Err(SizeProblem::MoreThan { size, limit }) = of(201.0, 10.0) else {
        panic!("a slender ellipse");
    };
    assert_eq!(size, SizeName::Width);
    assert!((limit - 0.2).abs() < 1e-12);
    let direct = Shape::Ellipse {
        centre: Point::new(mm(0.0), mm(0.0)),
        width: mm(10.0),
        height: mm(201.0),
    };
    assert!(direct.outline().is_err());
}

/// Roark's Formulas, table A.1 (from memory): A = (B + T)·H/2, ȳ = H/3·(B + 2T)/(B + T), Ixx =
/// H³·(B² + 4BT + T²)/(36·(B + T)), Iyy = H·(B + T)·(B² + T²)/48.
#[test]
fn trapezium_either_way_up() {
    for (b, t, h) in [
        (600.0, 360.0, 420.0),
        (30.0, 80.0, 25.0),
        (50.0, 50.0, 10.0),
    ] {
        let shape = Trapezium {
            width: mm(b),
            top_width: mm(t),
            height: mm(h),
        };
        let widest = f64::max(b, t);
        assert_same(
            properties(shape.outline().expect("possible sizes")),
            [
                (b + t) * h / 2.0,
                widest / 2.0,
                h / 3.0 * (b + 2.0 * t) / (b + t),
                h * h * h * (b * b + 4.0 * b * t + t * t) / (36.0 * (b + t)),
                h * (b + t) * (b * b + t * t) / 48.0,
                0.0,
            ],
        );
    }
}
