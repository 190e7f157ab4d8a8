package dev.rimecast.analytics.statistics;

/** Points and weights of Gauss-Legendre quadrature on an interval. */
final class GaussLegendre {
    private final double[] points;
    private final double[] weights;

    private GaussLegendre(double[] points, double[] weights) {
        this.points = points;
        this.weights = weights;
    }

    /** Roots of the Legendre polynomial of degree n by Newton's method from the usual cosine start. */
    static GaussLegendre of(int n, double from, double to) {
        double[] points = new double[n];
        double[] weights = new double[n];
        double half = (to - from) / 2;
        double middle = (to + from) / 2;
        for (int i = 0; i < n; i++) {
            double x = StrictMath.cos(StrictMath.PI * (i + 0.75) / (n + 0.5));
            double slope = 1;
            for (int step = 0; step < 100; step++) {
                double before = 0;
                double value = 1;
                for (int degree = 1; degree <= n; degree++) {
                    double next = ((2 * degree - 1) * x * value - (degree - 1) * before) / degree;
                    before = value;
                    value = next;
                }
                slope = n * (x * value - before) / (x * x - 1);
                double move = value / slope;
                x -= move;
                if (StrictMath.abs(move) < 1e-15) {
                    break;
                }
            }
            points[i] = middle - half * x;
            weights[i] = 2 * half / ((1 - x * x) * slope * slope);
        }
        return new GaussLegendre(points, weights);
    }

    double point(int i) {
        return points[i];
    }

    double weight(int i) {
        return weights[i];
    }
}
