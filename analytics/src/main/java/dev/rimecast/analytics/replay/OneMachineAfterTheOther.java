package dev.rimecast.analytics.replay;

/** A recording goes back in time from one machine to the next, so that no site's log can be made of it as it is. */
final class OneMachineAfterTheOther extends RuntimeException {
    private static final long serialVersionUID = 1L;

    OneMachineAfterTheOther(String machine) {
        super("the readings of " + machine + " begin before where its site has come to");
    }
}
