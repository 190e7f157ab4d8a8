-- Alerts and calls that are one problem. What people are told about is the case.
create table alert_case (
    id            uuid primary key,
    site          text        not null,
    -- what decides who belongs to it: a subject, or a common cause of cases.yaml and a place
    subject       text,
    common        text,
    place         text,
    cause         text,
    opened_at     timestamptz not null,
    latest_at     timestamptz not null,
    closed_at     timestamptz,
    -- the case that took its alerts over
    merged_into   uuid references alert_case (id),
    version       bigint      not null,
    -- whether people were told of it, or are by the notice of another case of the same site and cause
    announced     boolean     not null,
    spoken_for_by uuid references alert_case (id),
    check ((subject is null) = (common is not null) and (common is null) = (place is null)),
    check (merged_into is null or closed_at is not null),
    check (not (announced and spoken_for_by is not null))
);
create index alert_case_open on alert_case (site) where closed_at is null;
create index alert_case_by_time on alert_case (opened_at desc);

alter table alert add column case_id uuid references alert_case (id);
create index alert_by_case on alert (case_id);
alter table site_event add column case_id uuid references alert_case (id);
create index site_event_by_case on site_event (case_id) where case_id is not null;

alter table alert_event add column case_id uuid;
alter table alert_event add constraint alert_event_about check (alert is not null or case_id is not null);

-- Who did what to a case, when and why. Grows only.
create table case_audit (
    id      bigint generated always as identity primary key,
    case_id uuid        not null,
    at      timestamptz not null,
    who     text        not null,
    what    text        not null,
    why     text        not null
);
create index case_audit_by_case on case_audit (case_id, id);
create trigger case_audit_append_only before update or delete on case_audit
    for each row execute function refuse_change();
create trigger case_audit_no_truncate before truncate on case_audit
    for each statement execute function refuse_change();
