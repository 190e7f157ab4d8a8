package dev.rimecast.analytics.statistics;

/** Gaussian elimination with partial pivoting. */
final class LinearSystem {
    private LinearSystem() {}

    /** Solves n equations; each row holds n coefficients and the right side. The rows are overwritten. */
    static double[] solve(double[][] rows) {
        int n = rows.length;
        for (int pivot = 0; pivot < n; pivot++) {
            int best = pivot;
            for (int row = pivot + 1; row < n; row++) {
                if (StrictMath.abs(rows[row][pivot]) > StrictMath.abs(rows[best][pivot])) {
                    best = row;
                }
            }
            double[] swap = rows[pivot];
            rows[pivot] = rows[best];
            rows[best] = swap;
            for (int row = pivot + 1; row < n; row++) {
                double factor = rows[row][pivot] / rows[pivot][pivot];
                for (int column = pivot; column <= n; column++) {
                    rows[row][column] -= factor * rows[pivot][column];
                }
            }
        }
        double[] solution = new double[n];
        for (int row = n - 1; row >= 0; row--) {
            double sum = rows[row][n];
            for (int column = row + 1; column < n; column++) {
                sum -= rows[row][column] * solution[column];
            }
            solution[row] = sum / rows[row][row];
        }
        return solution;
    }
}
