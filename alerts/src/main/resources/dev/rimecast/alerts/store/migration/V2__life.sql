-- The whole life of ISA-18.2 / IEC 62682: latched, shelved, suppressed by design, out of service.

alter table alert drop constraint alert_state_check;
alter table alert drop constraint alert_check;
alter table alert drop constraint alert_check1;
alter table alert add constraint alert_state_known check (state in ('unacknowledged', 'acknowledged',
    'returned-unacknowledged', 'latched-unacknowledged', 'latched-acknowledged', 'shelved', 'suppressed-by-design',
    'out-of-service', 'normal'));
alter table alert add constraint alert_seen_whole check ((seen_stage is null) = (seen_priority is null));
-- What is acknowledged says how bad it was then; what is suppressed may remember it.
alter table alert add constraint alert_seen_where check (case state
    when 'acknowledged' then seen_stage is not null
    when 'suppressed-by-design' then true
    else seen_stage is null end);
-- What is there has no end; what has ended was not held.
alter table alert add constraint alert_end check (case
    when state in ('unacknowledged', 'acknowledged', 'shelved', 'suppressed-by-design', 'out-of-service')
        then cleared_at is null
    else cleared_at is not null end);

-- Every legal step from one state to another. A row that stays in its state needs no step.
create table alert_step (
    from_state text not null,
    to_state   text not null,
    primary key (from_state, to_state)
);
insert into alert_step
select f, t from (values
    ('unacknowledged', array['acknowledged', 'returned-unacknowledged', 'latched-unacknowledged',
        'shelved', 'suppressed-by-design', 'out-of-service', 'normal']),
    ('acknowledged', array['unacknowledged', 'latched-acknowledged',
        'shelved', 'suppressed-by-design', 'out-of-service', 'normal']),
    ('returned-unacknowledged', array['unacknowledged', 'shelved', 'suppressed-by-design', 'out-of-service', 'normal']),
    ('latched-unacknowledged', array['unacknowledged', 'latched-acknowledged', 'returned-unacknowledged',
        'shelved', 'suppressed-by-design', 'out-of-service', 'normal']),
    ('latched-acknowledged', array['unacknowledged', 'shelved', 'suppressed-by-design', 'out-of-service', 'normal']),
    ('shelved', array['unacknowledged', 'suppressed-by-design', 'out-of-service', 'normal']),
    ('suppressed-by-design', array['unacknowledged', 'acknowledged', 'shelved', 'out-of-service', 'normal']),
    ('out-of-service', array['unacknowledged', 'shelved', 'suppressed-by-design', 'normal']),
    ('normal', array['unacknowledged', 'returned-unacknowledged', 'latched-unacknowledged',
        'shelved', 'suppressed-by-design', 'out-of-service'])) as legal (f, ts), unnest(ts) as t;

create function refuse_illegal_step() returns trigger language plpgsql as $$
begin
    if new.state <> old.state
        and not exists (select 1 from alert_step where from_state = old.state and to_state = new.state) then
        raise exception 'alert % can''t go from % to %', old.id, old.state, new.state using errcode = 'check_violation';
    end if;
    if old.superseded_by is not null and new.state <> 'normal' then
        raise exception 'alert % was superseded and stays normal', old.id using errcode = 'check_violation';
    end if;
    return new;
end
$$;
create trigger alert_legal_step before update of state on alert for each row execute function refuse_illegal_step();

-- What keeps alerts from counting. Ended ones stay as a record; only the end can be written later, once.
create table alert_hold (
    id           uuid primary key,
    kind         text        not null check (kind in ('shelved', 'suppressed', 'out-of-service')),
    subject      text        not null,
    site         text        not null,
    -- null holds every condition of the subject
    condition    text,
    who          text        not null,
    why          text        not null check (why <> ''),
    permitted_by text,
    since        timestamptz not null,
    until        timestamptz,
    ended_at     timestamptz,
    ended_by     text,
    ended_why    text,
    check ((kind = 'shelved') = (until is not null)),
    check ((kind = 'out-of-service') = (permitted_by is not null)),
    check (kind = 'out-of-service' or condition is not null),
    check (until > since),
    check ((ended_at is null) = (ended_by is null) and (ended_at is null) = (ended_why is null))
);
create unique index alert_hold_one on alert_hold (subject, coalesce(condition, ''), kind) where ended_at is null;

create function refuse_hold_change() returns trigger language plpgsql as $$
begin
    if tg_op = 'UPDATE' and old.ended_at is null
        and (new.id, new.kind, new.subject, new.site, new.who, new.why, new.since)
            = (old.id, old.kind, old.subject, old.site, old.who, old.why, old.since)
        and new.condition is not distinct from old.condition and new.until is not distinct from old.until
        and new.permitted_by is not distinct from old.permitted_by then
        return new;
    end if;
    raise exception 'alert_hold is a record: only an end can be added, once';
end
$$;
create trigger alert_hold_record before update or delete on alert_hold
    for each row execute function refuse_hold_change();
create trigger alert_hold_no_truncate before truncate on alert_hold
    for each statement execute function refuse_change();

-- What happened to alerts, for whoever tells people: written in the transaction of the change, taken away by the reader.
-- "id" is a function of the alert and its version, so the same change told twice has the same id.
create table alert_event (
    sequence  bigint generated always as identity primary key,
    id        uuid        not null unique,
    kind      text        not null,
    site      text        not null,
    alert     uuid,
    version   bigint      not null,
    at        timestamptz not null,
    who       text        not null,
    -- false for what was over or old when it came: recorded, not notified
    announced boolean     not null
);
create index alert_event_by_alert on alert_event (alert, version);
