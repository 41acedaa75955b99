/** Small symmetric matrices, row after row in one list; `size` is the number of rows. Made for the three or five terms of a turn. */

/**
 * Eigenvalues of a symmetric matrix, least first, by Jacobi's rotations.
 *
 * @example symmetricEigenvalues([2, 1, 1, 2], 2).map(Math.round) // [1, 3]
 *
 * Source: Golub and Van Loan, Matrix Computations, section on Jacobi methods, from memory.
 */
export function symmetricEigenvalues(matrix: readonly number[], size: number): number[] {
  if (matrix.length !== size * size) throw new RangeError('symmetricEigenvalues needs size × size values')
  const m = matrix.slice()
  for (let sweep = 0; sweep < 60 && offDiagonal(m, size) > 1e-30 * diagonal(m, size); sweep++) {
    for (let row = 0; row < size; row++) for (let column = row + 1; column < size; column++) rotate(m, size, row, column)
  }
  const values: number[] = []
  for (let row = 0; row < size; row++) values.push(m[row * size + row]!)
  return values.sort((one, other) => one - other)
}

function offDiagonal(m: readonly number[], size: number): number {
  let squares = 0
  for (let row = 0; row < size; row++) for (let column = row + 1; column < size; column++) squares += m[row * size + column]! ** 2
  return squares
}

function diagonal(m: readonly number[], size: number): number {
  let squares = 0
  for (let row = 0; row < size; row++) squares += m[row * size + row]! ** 2
  return squares
}

/** Turns the plane of two rows so that the element they share becomes 0. */
function rotate(m: number[], size: number, row: number, column: number): void {
  const shared = m[row * size + column]!
  if (shared === 0) return
  const half = (m[column * size + column]! - m[row * size + row]!) / (2 * shared)
  const tangent = (half < 0 ? -1 : 1) / (Math.abs(half) + Math.sqrt(half * half + 1))
  const cosine = 1 / Math.sqrt(tangent * tangent + 1)
  const sine = tangent * cosine
  for (let i = 0; i < size; i++) {
    const one = m[i * size + row]!
    const other = m[i * size + column]!
    m[i * size + row] = cosine * one - sine * other
    m[i * size + column] = sine * one + cosine * other
  }
  for (let i = 0; i < size; i++) {
    const one = m[row * size + i]!
    const other = m[column * size + i]!
    m[row * size + i] = cosine * one - sine * other
    m[column * size + i] = sine * one + cosine * other
  }
}

/** Greatest eigenvalue over least, Infinity when the matrix carries nothing in some direction. @example conditionNumber([4, 0, 0, 1], 2) // 4 */
export function conditionNumber(matrix: readonly number[], size: number): number {
  const values = symmetricEigenvalues(matrix, size)
  const least = values[0]!
  return least > 0 ? values[size - 1]! / least : Number.POSITIVE_INFINITY
}

/** Lower triangle L with L·Lᵀ = matrix (Cholesky). Refuses a matrix that is not positive definite (RangeError). */
export function choleskyFactor(matrix: readonly number[], size: number): number[] {
  const factor = new Array<number>(size * size).fill(0)
  for (let row = 0; row < size; row++) {
    for (let column = 0; column <= row; column++) {
      let rest = matrix[row * size + column]!
      for (let k = 0; k < column; k++) rest -= factor[row * size + k]! * factor[column * size + k]!
      if (row === column && !(rest > 0)) throw new RangeError('choleskyFactor needs a positive definite matrix')
      factor[row * size + column] = row === column ? Math.sqrt(rest) : rest / factor[column * size + column]!
    }
  }
  return factor
}

/** Solves matrix·x = right side, the matrix given by its Cholesky factor. @example solveFactored([2, 0, 0, 4], [8, 16], 2) // [2, 1] */
export function solveFactored(factor: readonly number[], rightSide: readonly number[], size: number): number[] {
  const x = rightSide.slice()
  for (let row = 0; row < size; row++) {
    for (let k = 0; k < row; k++) x[row] = x[row]! - factor[row * size + k]! * x[k]!
    x[row] = x[row]! / factor[row * size + row]!
  }
  for (let row = size - 1; row >= 0; row--) {
    for (let k = row + 1; k < size; k++) x[row] = x[row]! - factor[k * size + row]! * x[k]!
    x[row] = x[row]! / factor[row * size + row]!
  }
  return x
}
