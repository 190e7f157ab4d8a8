package dev.rimecast.analytics.fourthfleet;

/** How one machine differs from the next of its group. */
interface Scatter {
    /** Every machine is its group's own. */
    Scatter NONE = new Scatter() {
        @Override
        public double about(double deviation, double limit) {
            return 1;
        }

        @Override
        public double between(double low, double high) {
            return (low + high) / 2;
        }

        @Override
        public double gauss(double deviation) {
            return 0;
        }
    };

    /** A factor near 1, normal, cut off at so many deviations. */
    double about(double deviation, double limit);

    double between(double low, double high);

    double gauss(double deviation);
}
