package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.Work;
import dev.rimecast.alerts.work.Work.PhotoOutcome;
import dev.rimecast.alerts.work.photo.NotAPhotoException;
import dev.rimecast.alerts.work.photo.PlainJpeg;
import dev.rimecast.alerts.work.photo.StoredPhoto;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.RateLimit;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.PhotoJson;
import io.javalin.http.Context;
import java.util.Map;
import java.util.UUID;

/** Photos of a report of work: putting one there, and looking at it. */
final class PhotoResource {
    private static final String TYPE = "image/jpeg";
    private static final String TOO_LONG = "Send at most " + PlainJpeg.MOST_BYTES / 1024 + " KiB: make it smaller.";
    /** Of one account: ten reports of a day without a connection, all at once. */
    private static final int A_MINUTE = 60;

    private final Fleet fleet;
    private final Reply reply;
    private final RateLimit limit = new RateLimit(A_MINUTE, System::nanoTime);

    PhotoResource(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void put(Context ctx) {
        UUID report = report(ctx).report().id();
        UUID id = id(ctx);
        limit.check(ctx, Gate.visitor(ctx).account().id().toString());
        PlainJpeg photo = read(ctx);
        PhotoOutcome outcome = fleet.work(ctx)
                .addPhoto(SiteScope.EVERY, report, id, photo, Gate.visitor(ctx).person());
        if (outcome instanceof PhotoOutcome.Added added) {
            ctx.status(201);
            reply.json(ctx, new PhotoJson.SentJson(true, PhotoJson.of(added.photo())));
        } else if (outcome instanceof PhotoOutcome.Known known) {
            reply.json(ctx, new PhotoJson.SentJson(false, PhotoJson.of(known.photo())));
        } else if (outcome instanceof PhotoOutcome.Full) {
            throw conflict("photos-full", "A report has " + StoredWork.MOST_PHOTOS + " photos at most.");
        } else if (outcome instanceof PhotoOutcome.Elsewhere) {
            throw conflict("photo-elsewhere", "That is the identifier of a photo of another report: make one.");
        } else {
            throw Identifier.unknown("work report", report);
        }
    }

    void get(Context ctx) {
        StoredWork work = report(ctx);
        UUID id = id(ctx);
        StoredPhoto photo = work.photos().stream()
                .filter(each -> each.id().equals(id))
                .findFirst()
                .orElseThrow(() -> Identifier.unknown("photo", id));
        Work all = fleet.work(ctx);
        reply.picture(
                ctx,
                TYPE,
                "photo-" + id + ".jpg",
                photo.sha256(),
                () -> all.photo(SiteScope.EVERY, work.report().id(), id)
                        .orElseThrow(() -> Identifier.unknown("photo", id)));
    }

    private StoredWork report(Context ctx) {
        UUID report = Identifier.of(ctx.pathParam("id"), "work report");
        return fleet.work(ctx)
                .one(SiteScope.EVERY, report)
                .orElseThrow(() -> Identifier.unknown("work report", report));
    }

    private static UUID id(Context ctx) {
        return Identifier.of(ctx.pathParam("photo"), "photo");
    }

    private static PlainJpeg read(Context ctx) {
        String type = ctx.contentType();
        if (type == null || !type.startsWith(TYPE)) {
            throw new Problem(415, "not-jpeg", "The body must be a JPEG", "Send " + TYPE + '.', Map.of()).asException();
        }
        try {
            return PlainJpeg.of(Body.bytes(ctx, PlainJpeg.MOST_BYTES, TOO_LONG));
        } catch (NotAPhotoException e) {
            throw new Problem(400, "bad-photo", "The photo is not taken", "It " + e.why() + '.', Map.of())
                    .asException();
        }
    }

    private static RuntimeException conflict(String code, String detail) {
        return new Problem(409, code, "The photo is not taken", detail, Map.of()).asException();
    }
}
