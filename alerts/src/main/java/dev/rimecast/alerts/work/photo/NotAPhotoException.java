package dev.rimecast.alerts.work.photo;

/** What was sent is no JPEG that we keep; the message says why, for whoever sent it. */
public final class NotAPhotoException extends Exception {
    private static final long serialVersionUID = 1;

    NotAPhotoException(String why) {
        super(why);
    }

    /** Why, in words. */
    public String why() {
        return String.valueOf(getMessage());
    }
}
