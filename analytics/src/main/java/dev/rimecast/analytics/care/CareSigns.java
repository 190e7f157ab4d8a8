package dev.rimecast.analytics.care;

/** What a machine's own cycles say of its care. Nothing here is a fault: a fault has a finding of its own. */
public interface CareSigns {
    /** A machine of which nothing is known. */
    CareSigns NONE = new CareSigns() {
        @Override
        public boolean isCondenserClean() {
            return false;
        }

        @Override
        public boolean isCondenserDrifting() {
            return false;
        }

        @Override
        public boolean isPlateDrifting() {
            return false;
        }
    };

    /** Whether the machine's own temperatures show a clean condenser: then its filter's interval is stretched. */
    boolean isCondenserClean();

    /** Whether the condensing temperature has risen over what it should be, though not by what is worth a finding. */
    boolean isCondenserDrifting();

    /** Whether harvests have become longer or pull-downs shorter, as scale makes them, though not by what is worth a finding. */
    boolean isPlateDrifting();
}
