-- Times are event times unless a column says otherwise. Codes are those of the contract.

-- The register as it was imported. "record" is the row in the encoding of the site's log.
create table site (
    id      text primary key,
    name    text  not null,
    record  bytea not null
);

create table machine (
    id          text primary key,
    site        text  not null references site (id),
    gateway     text  not null,
    room        text,
    model_group text,
    serial      text,
    record      bytea not null
);
create index machine_by_site on machine (site);

create table policy_version (
    version      text primary key,
    activated_at timestamptz not null,
    sequence     bigint generated always as identity,
    yaml         text        not null
);

-- What people reported; the same goes into the site's log.
create table site_event (
    id       bigint generated always as identity primary key,
    site     text        not null,
    machine  text,
    happened timestamptz not null,
    kind     text        not null,
    detail   text        not null,
    who      text        not null,
    job      text        not null
);
create index site_event_by_site on site_event (site, happened);

-- One row per alert: the newest revision of its finding, and where it is in its life.
create table alert (
    id              uuid primary key,
    subject         text        not null,
    machine         text,
    gateway         text,
    site            text        not null,
    condition       text        not null,
    revision        integer     not null check (revision >= 1),
    stage           text        not null,
    priority        text        not null,
    raised_at       timestamptz not null,
    changed_at      timestamptz not null,
    cleared_at      timestamptz,
    severity_since  timestamptz not null,
    limit_early     timestamptz,
    act_by          timestamptz,
    state           text        not null
        check (state in ('unacknowledged', 'acknowledged', 'returned-unacknowledged', 'normal')),
    seen_stage      text,
    seen_priority   text,
    superseded_by   uuid,
    version         bigint      not null,
    acknowledged_by text,
    acknowledged_at timestamptz,
    assignee        text,
    -- false for what was older than an hour when it came: recorded, not notified
    announced       boolean     not null,
    finding         jsonb       not null,
    check ((state = 'acknowledged') = (seen_stage is not null)),
    check ((seen_stage is null) = (seen_priority is null))
);
-- The rules see to this; the index is the second wall.
create unique index alert_one_open on alert (subject, condition) where state <> 'normal';
create index alert_open on alert (machine) where state <> 'normal';
create index alert_by_machine on alert (machine, raised_at desc);
create index alert_by_time on alert (raised_at desc);

-- How a finding developed.
create table finding_revision (
    alert    uuid        not null,
    revision integer     not null,
    step     text        not null,
    at       timestamptz not null,
    finding  jsonb       not null,
    primary key (alert, revision)
);

-- Who did what, when and why. Grows only.
create table alert_audit (
    id    bigint generated always as identity primary key,
    alert uuid        not null,
    at    timestamptz not null,
    who   text        not null,
    what  text        not null,
    why   text        not null
);
create index alert_audit_by_alert on alert_audit (alert, id);

create function refuse_change() returns trigger language plpgsql as $$
begin
    raise exception '% is append-only: % refused', tg_table_name, lower(tg_op);
end
$$;
create trigger alert_audit_append_only
    before update or delete on alert_audit
    for each row execute function refuse_change();
create trigger alert_audit_no_truncate
    before truncate on alert_audit
    for each statement execute function refuse_change();

create table cycle (
    machine      text        not null,
    freeze_start timestamptz not null,
    ended        timestamptz not null,
    complete     boolean     not null,
    record       jsonb       not null,
    primary key (machine, freeze_start)
);

-- Temperatures in buckets of five minutes, °C. "seen" says which seconds of the bucket have counted, for each
-- channel, so that a reading that comes twice counts once.
create table rollup_5min (
    machine    text        not null,
    bucket     timestamptz not null,
    evap_count integer     not null,
    evap_min   real,
    evap_sum   double precision not null,
    evap_max   real,
    cond_count integer     not null,
    cond_min   real,
    cond_sum   double precision not null,
    cond_max   real,
    amb_count  integer     not null,
    amb_sum    double precision not null,
    water_count integer    not null,
    water_sum  double precision not null,
    seen       bytea       not null,
    primary key (machine, bucket)
);

create table latest_value (
    machine text             not null,
    channel text             not null,
    at      timestamptz      not null,
    value   double precision not null,
    text    text             not null,
    primary key (machine, channel)
);

create table gateway_presence (
    gateway      text primary key,
    site         text not null,
    online       boolean,
    changed_at   timestamptz,
    last_pack_at timestamptz
);

-- How far each partition has been taken in. A log begun anew has another topic id.
create table consumer_offset (
    topic       text    not null,
    partition   integer not null,
    topic_id    text    not null,
    next_offset bigint  not null,
    primary key (topic, partition)
);

-- Records on their way into the site's log; gone once Kafka has them. Whoever writes for a key holds that key's lock
-- until the commit, so ids of one key are in the order of its commits.
create table log_outbox (
    id    bigint generated always as identity primary key,
    topic text not null,
    key   text not null,
    value bytea
);
