//! Three by three matrices, as colour work needs them.

/// A matrix by rows.
pub(crate) type Matrix = [[f64; 3]; 3];

/// `m` times `v`.
pub(crate) fn times(m: &Matrix, v: [f64; 3]) -> [f64; 3] {
    m.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

/// `a` times `b`.
pub(crate) fn product(a: &Matrix, b: &Matrix) -> Matrix {
    a.map(|row| [0, 1, 2].map(|column| (0..3).map(|k| row[k] * b[k][column]).sum()))
}

/// The inverse, by cofactors. The matrices here are fixed and well conditioned.
pub(crate) fn inverse(m: &Matrix) -> Matrix {
    let minor = |r: usize, c: usize| {
        let (r1, r2) = ((r + 1) % 3, (r + 2) % 3);
        let (c1, c2) = ((c + 1) % 3, (c + 2) % 3);
        m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
    };
    let determinant: f64 = (0..3).map(|c| m[0][c] * minor(0, c)).sum();
    [0, 1, 2].map(|r| [0, 1, 2].map(|c| minor(c, r) / determinant))
}
