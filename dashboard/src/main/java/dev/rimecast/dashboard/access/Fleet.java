package dev.rimecast.dashboard.access;

import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Inquiries;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.ScopedActions;
import dev.rimecast.alerts.view.ScopedEvents;
import dev.rimecast.alerts.view.ScopedInquiries;
import dev.rimecast.alerts.view.ScopedMarks;
import dev.rimecast.alerts.view.ScopedNotices;
import dev.rimecast.alerts.view.ScopedViews;
import dev.rimecast.alerts.view.ScopedVisits;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.work.Commissioning;
import dev.rimecast.alerts.work.ScopedCommissioning;
import dev.rimecast.alerts.work.ScopedWork;
import dev.rimecast.alerts.work.Work;
import io.javalin.http.Context;

/** The fleet as the visitor of a request may see it. Nothing of the API has another way to it. */
public final class Fleet {
    private final Views views;
    private final Actions actions;
    private final Inquiries inquiries;
    private final Events events;
    private final Notices notices;
    private final Work work;
    private final Commissioning commissioning;
    private final Marks marks;
    private final Visits visits;

    public Fleet(
            Views views,
            Actions actions,
            Inquiries inquiries,
            Events events,
            Notices notices,
            Work work,
            Commissioning commissioning,
            Marks marks,
            Visits visits) {
        this.views = views;
        this.actions = actions;
        this.inquiries = inquiries;
        this.events = events;
        this.notices = notices;
        this.work = work;
        this.commissioning = commissioning;
        this.marks = marks;
        this.visits = visits;
    }

    public SiteScope sites(Context ctx) {
        return Gate.visitor(ctx).sites();
    }

    public Views views(Context ctx) {
        return ScopedViews.of(views, sites(ctx));
    }

    public Actions actions(Context ctx) {
        return ScopedActions.of(actions, views, sites(ctx));
    }

    public Inquiries inquiries(Context ctx) {
        return ScopedInquiries.of(inquiries, views, sites(ctx));
    }

    public Events events(Context ctx) {
        return ScopedEvents.of(events, sites(ctx));
    }

    public Work work(Context ctx) {
        return ScopedWork.of(work, sites(ctx));
    }

    public Commissioning commissioning(Context ctx) {
        return ScopedCommissioning.of(commissioning, sites(ctx));
    }

    public Marks marks(Context ctx) {
        return ScopedMarks.of(marks, sites(ctx));
    }

    public Notices notices(Context ctx) {
        return ScopedNotices.of(notices, sites(ctx));
    }

    public Visits visits(Context ctx) {
        return ScopedVisits.of(visits, sites(ctx));
    }
}
