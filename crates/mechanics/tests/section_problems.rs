//! What is found wrong with the geometry of sections, and what is not.

use haunch_mechanics::section::{
    NoResult, Outline, Part, Point, Problem, Section, Sense, Shape, ShapeProblem, Size,
};
use haunch_quantity::typed::{Force, Length, Moment, Ratio, Typed};

fn millimetres(value: f64) -> Length {
    Length::from_si(value / 1e3)
}

fn point(x: f64, y: f64) -> Point {
    Point::new(millimetres(x), millimetres(y))
}

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Shape {
    Shape::Rectangle {
        left: millimetres(left),
        bottom: millimetres(bottom),
        width: millimetres(width),
        height: millimetres(height),
    }
}

fn circle(x: f64, y: f64, diameter: f64) -> Shape {
    Shape::Circle {
        centre: point(x, y),
        diameter: millimetres(diameter),
    }
}

fn tube(diameter: f64, thickness: f64) -> Shape {
    Shape::Tube {
        centre: point(0.0, 0.0),
        diameter: millimetres(diameter),
        thickness: millimetres(thickness),
    }
}

fn problems(parts: &[Part]) -> Vec<Problem> {
    Section::new(parts).expect_err("a problem")
}

fn warnings(parts: &[Part]) -> Vec<Problem> {
    Section::new(parts)
        .expect("a sound section")
        .warnings()
        .to_vec()
}

fn shape_problem(shape: Shape) -> ShapeProblem {
    match problems(&[Part::material(shape)]).as_slice() {
        [Problem::Shape { part: 0, problem }] => *problem,
        other => panic!("{other:?}"),
    }
}

#[test]
fn sizes_must_be_positive_and_finite() {
    assert_eq!(
        shape_problem(rectangle(0.0, 0.0, 0.0, 1.0)),
        ShapeProblem::NotPositive(Size::Width)
    );
    assert_eq!(
        shape_problem(rectangle(0.0, 0.0, 1.0, -1.0)),
        ShapeProblem::NotPositive(Size::Height)
    );
    assert_eq!(
        shape_problem(circle(0.0, 0.0, -5.0)),
        ShapeProblem::NotPositive(Size::Diameter)
    );
    assert_eq!(
        shape_problem(tube(50.0, 0.0)),
        ShapeProblem::NotPositive(Size::Thickness)
    );
    assert_eq!(
        shape_problem(tube(50.0, 26.0)),
        ShapeProblem::WallThickerThanRadius
    );
    assert_eq!(
        shape_problem(rectangle(0.0, 0.0, f64::NAN, 1.0)),
        ShapeProblem::NotFinite
    );
    assert_eq!(
        shape_problem(circle(f64::INFINITY, 0.0, 1.0)),
        ShapeProblem::NotFinite
    );
    // A wall as thick as the radius is a full bar.
    let bar = Section::new(&[Part::material(tube(50.0, 25.0))]).unwrap();
    let full = Section::new(&[Part::material(circle(0.0, 0.0, 50.0))]).unwrap();
    assert_eq!(bar.area(), full.area());
}

#[test]
fn polygons_must_enclose_something_once() {
    let corners =
        |list: &[(f64, f64)]| Shape::Polygon(list.iter().map(|&(x, y)| point(x, y)).collect());
    assert_eq!(
        shape_problem(corners(&[(0.0, 0.0), (1.0, 0.0)])),
        ShapeProblem::TooFewCorners
    );
    assert_eq!(
        shape_problem(corners(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)])),
        ShapeProblem::NoArea
    );
    assert_eq!(
        shape_problem(corners(&[
            (0.0, 0.0),
            (10.0, 10.0),
            (10.0, 0.0),
            (0.0, 9.0)
        ])),
        ShapeProblem::CrossesItself
    );
    // Either way round, a triangle has bh/2, bh³/36 and its centroid at h/3.
    for list in [
        [(0.0, 0.0), (60.0, 0.0), (20.0, 90.0)],
        [(20.0, 90.0), (60.0, 0.0), (0.0, 0.0)],
    ] {
        let own = Section::new(&[Part::material(corners(&list))]).unwrap();
        assert!((own.area().si() / 2700e-6 - 1.0).abs() < 1e-14);
        assert!((own.centroid().y.si() / 0.03 - 1.0).abs() < 1e-14);
        let expected = 60.0 * 90.0 * 90.0 * 90.0 / 36.0 * 1e-12;
        assert!((own.second_moments().ixx.si() / expected - 1.0).abs() < 1e-13);
        // The largest shear stress is 1.5 V/A at half the depth, not at the centroid.
        // Source: common practice, Timoshenko, Strength of Materials I, from memory.
        let shear = own.largest_shear_stress(Force::from_si(1.0)).unwrap();
        assert!(
            (shear.y.si() / 0.045 - 1.0).abs() < 1e-6,
            "{}",
            shear.y.si()
        );
    }
}

#[test]
fn overlaps_are_found_and_touching_is_not_one() {
    let base = Part::material(rectangle(0.0, 0.0, 100.0, 10.0));
    let found = problems(&[
        base.clone(),
        Part::material(rectangle(40.0, 9.0, 8.0, 50.0)),
    ]);
    match found.as_slice() {
        [
            Problem::Overlap {
                first: 0,
                second: 1,
                area,
            },
        ] => {
            assert!((area.si() / 8e-6 - 1.0).abs() < 1e-12);
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(
        warnings(&[
            base.clone(),
            Part::material(rectangle(40.0, 10.0, 8.0, 50.0))
        ]),
        []
    );
    // Sums that miss by rounding still touch.
    let stacked = [
        rectangle(0.0, 0.0, 10.0, 0.1),
        rectangle(0.0, 0.1, 10.0, 0.2),
        rectangle(0.0, 0.3, 10.0, 0.1),
        rectangle(0.0, 0.4, 10.0, 0.3),
    ];
    assert_eq!(warnings(&stacked.map(Part::material)), []);
    // A part inside another one overlaps it.
    let inner = Part::material(circle(50.0, 5.0, 4.0));
    assert!(matches!(
        problems(&[base, inner])[..],
        [Problem::Overlap { .. }]
    ));
}

#[test]
fn deductions_must_lie_in_the_material() {
    let plate = Part::material(rectangle(0.0, 0.0, 100.0, 20.0));
    let hole = |x: f64, y: f64, d: f64| Part::deduction(circle(x, y, d));
    assert_eq!(warnings(&[plate.clone(), hole(50.0, 10.0, 18.0)]), []);
    match problems(&[plate.clone(), hole(50.0, 40.0, 10.0)]).as_slice() {
        [
            Problem::DeductionOutside {
                deduction: 1,
                wholly: true,
                ..
            },
        ] => {}
        other => panic!("{other:?}"),
    }
    match problems(&[plate.clone(), hole(50.0, 20.0, 10.0)]).as_slice() {
        // Half of the hole lies above the plate.
        [
            Problem::DeductionOutside {
                deduction: 1,
                wholly: false,
                area,
            },
        ] => {
            let half = std::f64::consts::PI * 25.0 / 2.0 * 1e-6;
            assert!((area.si() / half - 1.0).abs() < 1e-12);
        }
        other => panic!("{other:?}"),
    }
    // A hole across the joint of two plates lies in the material.
    let second = Part::material(rectangle(0.0, 20.0, 100.0, 20.0));
    assert_eq!(
        warnings(&[plate.clone(), second, hole(50.0, 20.0, 10.0)]),
        []
    );
    assert_eq!(
        problems(&[
            plate.clone(),
            Part::deduction(rectangle(0.0, 0.0, 100.0, 20.0))
        ]),
        [Problem::NothingLeft { part: 0 }]
    );
    assert_eq!(problems(&[]), [Problem::NoMaterial]);
    assert_eq!(
        problems(&[Part::deduction(rectangle(0.0, 0.0, 1.0, 1.0))]),
        [Problem::NoMaterial]
    );
}

#[test]
fn a_slot_of_overlapping_deductions_is_taken_out_once() {
    let slot = [
        Part::material(rectangle(0.0, 0.0, 100.0, 40.0)),
        Part::deduction(rectangle(30.0, 15.0, 40.0, 10.0)),
        Part::deduction(circle(30.0, 20.0, 10.0)),
        Part::deduction(circle(70.0, 20.0, 10.0)),
    ];
    let own = Section::new(&slot).unwrap();
    let expected = (4000.0 - 400.0 - std::f64::consts::PI * 25.0) * 1e-6;
    assert!((own.area().si() / expected - 1.0).abs() < 1e-13);
    assert_eq!(
        own.warnings(),
        [
            Problem::DeductionsOverlap {
                first: 1,
                second: 2
            },
            Problem::DeductionsOverlap {
                first: 1,
                second: 3
            },
        ]
    );
    let width = own.width_at(millimetres(20.0));
    assert!((width.above.si() - 0.05).abs() < 1e-15);
}

#[test]
fn pieces_that_do_not_touch_are_told() {
    let plates = [
        Part::material(rectangle(0.0, 0.0, 100.0, 10.0)),
        Part::material(rectangle(0.0, 30.0, 100.0, 10.0)),
    ];
    assert_eq!(
        warnings(&plates),
        [Problem::NotConnected {
            pieces: vec![vec![0], vec![1]]
        }]
    );
    let own = Section::new(&plates).unwrap();
    assert!(matches!(
        own.largest_shear_stress(Force::from_si(1.0)),
        Err(NoResult::NoWidth { .. })
    ));
    // The area is halved anywhere between the plates: the middle is given.
    assert!((own.plastic_x().unwrap().neutral_axis.si() - 0.020).abs() < 1e-15);

    // A slot through the whole width cuts one plate into two pieces.
    let cut = [
        Part::material(rectangle(0.0, 0.0, 100.0, 30.0)),
        Part::deduction(rectangle(0.0, 10.0, 100.0, 10.0)),
    ];
    assert_eq!(
        warnings(&cut),
        [Problem::NotConnected {
            pieces: vec![vec![0], vec![0]]
        }]
    );

    // A bar in the bore of a tube touches nothing; one that fills the bore does.
    let loose = [
        Part::material(tube(50.0, 5.0)),
        Part::material(circle(0.0, 0.0, 20.0)),
    ];
    assert_eq!(
        warnings(&loose),
        [Problem::NotConnected {
            pieces: vec![vec![0], vec![1]]
        }]
    );
    let tight = [
        Part::material(tube(50.0, 5.0)),
        Part::material(circle(0.0, 0.0, 40.0)),
    ];
    assert_eq!(warnings(&tight), []);

    // A hole in a plate does not separate its rim from the plate.
    let pierced = [
        Part::material(rectangle(0.0, 0.0, 100.0, 30.0)),
        Part::deduction(circle(50.0, 15.0, 20.0)),
    ];
    assert_eq!(warnings(&pierced), []);
}

#[test]
fn a_bar_resting_on_a_plate_has_no_width_to_carry_shear() {
    let parts = [
        Part::material(rectangle(-50.0, 0.0, 100.0, 10.0)),
        Part::material(circle(0.0, 30.0, 40.0)),
    ];
    let own = Section::new(&parts).unwrap();
    assert_eq!(own.warnings(), []);
    match own.largest_shear_stress(Force::from_si(1.0)) {
        Err(NoResult::NoWidth { y }) => assert!((y.si() - 0.010).abs() < 1e-9),
        other => panic!("{other:?}"),
    }
}

#[test]
fn sizes_out_of_all_proportion_are_refused() {
    let far = Part::material(rectangle(1e9, 0.0, 100.0, 10.0));
    assert_eq!(problems(&[far]), [Problem::TooFarAway]);
    let foil = [
        Part::material(rectangle(0.0, 0.0, 1e6, 1e6)),
        Part::material(rectangle(0.0, 1e6, 100.0, 9.0)),
    ];
    assert_eq!(problems(&foil), [Problem::TooThin { part: 1 }]);
    let shape = rectangle(0.0, 0.0, 1e200, 1e200);
    assert_eq!(shape_problem(shape), ShapeProblem::SizeOutOfRange);
    let wrong = Part::with_modular_ratio(rectangle(0.0, 0.0, 1.0, 1.0), Ratio::from_si(0.0));
    assert_eq!(problems(&[wrong]), [Problem::ModularRatio { part: 0 }]);
}

#[test]
fn stress_exists_in_the_material_only() {
    let parts = [
        Part::material(rectangle(0.0, 0.0, 100.0, 20.0)),
        Part::material(rectangle(0.0, 20.0, 10.0, 80.0)),
        Part::deduction(circle(50.0, 10.0, 10.0)),
    ];
    let own = Section::new(&parts).unwrap();
    assert_eq!(own.parts_at(point(5.0, 20.0)), [0, 1]);
    assert_eq!(own.parts_at(point(5.0, 50.0)), [1]);
    assert_eq!(own.parts_at(point(100.0, 0.0)), [0]);
    assert_eq!(own.parts_at(point(50.0, 15.0)), [0]);
    assert!(!own.contains(point(50.0, 10.0)));
    assert!(!own.contains(point(50.0, 50.0)));
    assert!(own.is_bent_unsymmetrically());
    let forces = haunch_mechanics::section::Forces::bending(Moment::from_si(1e3));
    assert_eq!(
        own.stress(&forces, point(50.0, 50.0)),
        Err(NoResult::Outside)
    );
    assert_eq!(
        own.shear_stress(millimetres(-1.0), Force::from_si(1.0)),
        Err(NoResult::Outside)
    );
}

#[test]
fn several_materials_have_no_plastic_modulus_and_no_mean_shear_stress_side_by_side() {
    let flitch = [
        Part::material(rectangle(0.0, 0.0, 50.0, 200.0)),
        Part::with_modular_ratio(rectangle(50.0, 0.0, 10.0, 200.0), Ratio::from_si(20.0)),
    ];
    let own = Section::new(&flitch).unwrap();
    assert_eq!(own.plastic_x(), Err(NoResult::SeveralMaterials));
    assert!(matches!(
        own.largest_shear_stress(Force::from_si(1.0)),
        Err(NoResult::SeveralMaterialsSideBySide { .. })
    ));
    assert!((own.transformed_area().si() / 0.05 - 1.0).abs() < 1e-14);
    assert!((own.area().si() / 0.012 - 1.0).abs() < 1e-14);
}

#[test]
fn outlines_that_make_no_sense_are_refused() {
    let square = |middle: f64, half: f64| {
        rectangle(middle - half, middle - half, 2.0 * half, 2.0 * half)
            .outline()
            .unwrap()
    };
    let problem = |outline: Outline| shape_problem(Shape::Outline(outline));
    let far = Point::new(Length::from_si(1e12), Length::from_si(0.0));
    let turned = square(0.0, 10.0).turned(Ratio::from_si(1e-3), far);
    assert_eq!(problem(turned), ShapeProblem::TooFarAway);
    let outside = square(0.0, 10.0).with_hole(square(30.0, 5.0));
    assert_eq!(problem(outside), ShapeProblem::HoleOutside);
    let swallowing = square(0.0, 10.0).with_hole(square(0.0, 2.0));
    let swallowing = swallowing.with_hole(square(0.0, 5.0));
    assert_eq!(problem(swallowing), ShapeProblem::HoleOutside);
    let touching = square(0.0, 10.0).with_hole(square(5.0, 5.0));
    assert_eq!(problem(touching), ShapeProblem::CrossesItself);
    let misfit = Outline::starting_at(point(0.0, 0.0))
        .line_to(point(10.0, 0.0))
        .arc_to(point(0.0, 9.9), point(0.0, 0.0), Sense::Anticlockwise)
        .close();
    assert_eq!(problem(misfit), ShapeProblem::ArcDoesNotFit);
    let (left, right) = (point(-0.5, 0.0), point(0.5, 0.0));
    let flat = Outline::starting_at(left)
        .line_to(right)
        .arc_to(left, point(0.0, -1e6), Sense::Anticlockwise)
        .close();
    assert_eq!(problem(flat), ShapeProblem::ArcTooFlat);
}
