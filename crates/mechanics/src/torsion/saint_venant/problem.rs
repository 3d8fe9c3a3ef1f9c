//! Saint-Venant's problem in both of its forms on one mesh.

use super::NoTorsion;
use super::elements::{Sample, samples};
use super::mesh::Mesh;
use crate::torsion::equations::Equations;

/// What both forms give, in powers of the section's longer side, from the mesh's origin.
#[derive(Clone, Copy, Debug)]
pub(super) struct Solution {
    /// By the stress function: not more than the true constant.
    pub(super) least: f64,
    /// By the warping function: not less than the true constant.
    pub(super) greatest: f64,
    pub(super) shear_centre: [f64; 2],
    pub(super) warping_constant: f64,
    /// The share of the area by which the boundary of the mesh may be off.
    pub(super) misfit: f64,
}

/// Area, centroid and second moments of the mesh itself.
struct Plane {
    area: f64,
    centroid: [f64; 2],
    /// ∫x², ∫y², ∫xy about the centroid.
    xx: f64,
    yy: f64,
    xy: f64,
}

pub(super) fn solve(mesh: &Mesh) -> Result<Solution, NoTorsion> {
    let elements: Vec<[Sample; 6]> = mesh
        .elements
        .iter()
        .map(|element| samples(mesh, element).ok_or(NoTorsion::NoMesh))
        .collect::<Result<_, _>>()?;
    let plane = plane(&elements);
    let stiffness: Vec<[[f64; 6]; 6]> = elements.iter().map(stiffness).collect();
    let least = stress_function(mesh, &elements, &stiffness)?;
    let warping = warping_function(mesh, &elements, &stiffness, &plane)?;
    let (greatest, shear_centre, warping_constant) =
        warping_results(mesh, &elements, &plane, &warping);
    Ok(Solution {
        least,
        greatest,
        shear_centre,
        warping_constant,
        misfit: mesh.misfit / plane.area,
    })
}

fn plane(elements: &[[Sample; 6]]) -> Plane {
    let sum = |f: &dyn Fn([f64; 2]) -> f64| -> f64 {
        elements
            .iter()
            .flatten()
            .map(|own| own.weight * f(own.place))
            .sum()
    };
    let area = sum(&|_| 1.0);
    let centroid = [sum(&|own| own[0]) / area, sum(&|own| own[1]) / area];
    let [x, y] = centroid;
    Plane {
        area,
        centroid,
        xx: sum(&|own| (own[0] - x) * (own[0] - x)),
        yy: sum(&|own| (own[1] - y) * (own[1] - y)),
        xy: sum(&|own| (own[0] - x) * (own[1] - y)),
    }
}

/// ∫ ∇Nᵢ·∇Nⱼ dA
fn stiffness(samples: &[Sample; 6]) -> [[f64; 6]; 6] {
    let mut matrix = [[0.0; 6]; 6];
    for own in samples {
        for (row, one) in matrix.iter_mut().zip(&own.slope) {
            for (entry, other) in row.iter_mut().zip(&own.slope) {
                *entry += own.weight * (one[0] * other[0] + one[1] * other[1]);
            }
        }
    }
    matrix
}

/// The torsion constant by Prandtl's stress function: ∇²φ = −2 in the material, φ = 0 on the
/// outer boundary and an unknown constant on each hole, J = 2∫φ dA + 2Σ φ_hole·A_hole (Timoshenko
/// & Goodier, Theory of Elasticity, 3rd ed., arts. 104 and 115). As the true φ makes ∫φ greatest
/// for the work done, an approximate φ gives a J that is too small.
fn stress_function(
    mesh: &Mesh,
    elements: &[[Sample; 6]],
    stiffness: &[[[f64; 6]; 6]],
) -> Result<f64, NoTorsion> {
    let holes = mesh.loop_areas.len().saturating_sub(1);
    let mut count = 0;
    let mut unknown_of: Vec<Option<usize>> = mesh
        .on_loop
        .iter()
        .map(|on_loop| {
            on_loop.is_none().then(|| {
                count += 1;
                count - 1
            })
        })
        .collect();
    for (own, on_loop) in unknown_of.iter_mut().zip(&mesh.on_loop) {
        if let Some(hole) = on_loop.filter(|&number| number > 0) {
            *own = Some(count + hole - 1);
        }
    }
    let total = count + holes;
    if total == 0 {
        return Err(NoTorsion::NoMesh);
    }
    let groups: Vec<Vec<usize>> = mesh
        .elements
        .iter()
        .map(|element| {
            element
                .iter()
                .filter_map(|&node| unknown_of[node])
                .collect()
        })
        .collect();
    let inside = mesh.nodes.iter().zip(&mesh.on_loop);
    let places: Vec<[f64; 2]> = inside
        .filter(|(_, on_loop)| on_loop.is_none())
        .map(|(place, _)| *place)
        .collect();
    let mut equations = Equations::new(&places, holes, groups.iter());
    let mut right = vec![0.0; total];
    for (hole, area) in mesh.loop_areas.iter().skip(1).enumerate() {
        right[count + hole] = 2.0 * area;
    }
    for ((element, samples), matrix) in mesh.elements.iter().zip(elements).zip(stiffness) {
        for (i, row) in matrix.iter().enumerate() {
            let Some(one) = unknown_of[element[i]] else {
                continue;
            };
            right[one] += samples
                .iter()
                .map(|own| 2.0 * own.weight * own.shape[i])
                .sum::<f64>();
            for (j, &entry) in row.iter().enumerate() {
                if let Some(other) = unknown_of[element[j]] {
                    equations.add(one, other, entry);
                }
            }
        }
    }
    let solution = equations.solve(&right).ok_or(NoTorsion::NoMesh)?;
    Ok(solution
        .iter()
        .zip(&right)
        .map(|(own, load)| own * load)
        .sum())
}

/// The warping function ω about the centroid, its mean 0: ∇²ω = 0, ∂ω/∂n = y·nₓ − x·n_y
/// (Timoshenko & Goodier, art. 101).
fn warping_function(
    mesh: &Mesh,
    elements: &[[Sample; 6]],
    stiffness: &[[[f64; 6]; 6]],
    plane: &Plane,
) -> Result<Vec<f64>, NoTorsion> {
    // The function is known but for a constant: the last node is held.
    let count = mesh.nodes.len() - 1;
    let groups: Vec<Vec<usize>> = mesh
        .elements
        .iter()
        .map(|element| {
            element
                .iter()
                .copied()
                .filter(|&node| node < count)
                .collect()
        })
        .collect();
    let mut equations = Equations::new(&mesh.nodes[..count], 0, groups.iter());
    let mut right = vec![0.0; count];
    for ((element, samples), matrix) in mesh.elements.iter().zip(elements).zip(stiffness) {
        for (i, row) in matrix.iter().enumerate() {
            let one = element[i];
            if one == count {
                continue;
            }
            right[one] += samples
                .iter()
                .map(|own| {
                    let (x, y) = (
                        own.place[0] - plane.centroid[0],
                        own.place[1] - plane.centroid[1],
                    );
                    own.weight * (y * own.slope[i][0] - x * own.slope[i][1])
                })
                .sum::<f64>();
            for (j, &entry) in row.iter().enumerate() {
                if element[j] < count {
                    equations.add(one, element[j], entry);
                }
            }
        }
    }
    let mut warping = equations.solve(&right).ok_or(NoTorsion::NoMesh)?;
    warping.push(0.0);
    let mean = integral(mesh, elements, |value, _| value, &warping) / plane.area;
    for own in &mut warping {
        *own -= mean;
    }
    Ok(warping)
}

/// The torsion constant, the shear centre and the warping constant from the warping function.
///
/// J = ∫ (∂ω/∂x − y)² + (∂ω/∂y + x)² dA, which the true ω makes least, so that an approximate ω
/// gives a J that is too large. The shear centre (xₛ, yₛ) from the centroid makes
/// ωₛ = ω − yₛ·x + xₛ·y free of any moment, ∫ωₛ·x dA = ∫ωₛ·y dA = 0 (Trefftz 1935, ZAMM 15);
/// I_w = ∫ωₛ² dA.
fn warping_results(
    mesh: &Mesh,
    elements: &[[Sample; 6]],
    plane: &Plane,
    warping: &[f64],
) -> (f64, [f64; 2], f64) {
    let [cx, cy] = plane.centroid;
    let mut greatest = 0.0;
    for (element, samples) in mesh.elements.iter().zip(elements) {
        for own in samples {
            let mut slope = [0.0; 2];
            for (&node, local) in element.iter().zip(&own.slope) {
                slope[0] += warping[node] * local[0];
                slope[1] += warping[node] * local[1];
            }
            let strain = [
                slope[0] - (own.place[1] - cy),
                slope[1] + (own.place[0] - cx),
            ];
            greatest += own.weight * (strain[0] * strain[0] + strain[1] * strain[1]);
        }
    }
    let with_x = integral(
        mesh,
        elements,
        |value, place| value * (place[0] - cx),
        warping,
    );
    let with_y = integral(
        mesh,
        elements,
        |value, place| value * (place[1] - cy),
        warping,
    );
    let Plane { xx, yy, xy, .. } = *plane;
    let determinant = xx * yy - xy * xy;
    let y = (yy * with_x - xy * with_y) / determinant;
    let x = (xy * with_x - xx * with_y) / determinant;
    let about_shear_centre = |value: f64, place: [f64; 2]| {
        let own = value - y * (place[0] - cx) + x * (place[1] - cy);
        own * own
    };
    let warping_constant = integral(mesh, elements, about_shear_centre, warping);
    (greatest, [cx + x, cy + y], warping_constant)
}

fn integral(
    mesh: &Mesh,
    elements: &[[Sample; 6]],
    f: impl Fn(f64, [f64; 2]) -> f64,
    values: &[f64],
) -> f64 {
    let mut sum = 0.0;
    for (element, samples) in mesh.elements.iter().zip(elements) {
        for own in samples {
            let value: f64 = element
                .iter()
                .zip(&own.shape)
                .map(|(&node, shape)| values[node] * shape)
                .sum();
            sum += own.weight * f(value, own.place);
        }
    }
    sum
}
