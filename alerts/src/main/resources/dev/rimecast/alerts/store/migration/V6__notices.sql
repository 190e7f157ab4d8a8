-- Notices: what people are told of, to whom it went, and how that went.

-- The case by whose notice people know of this one, where an alert of it came over from there.
alter table alert_case add column announced_with uuid references alert_case (id);
create index alert_case_announced_with on alert_case (announced_with) where announced_with is not null;
create index alert_case_spoken_for on alert_case (spoken_for_by) where spoken_for_by is not null;

-- A case that was announced, and how far people were told. The id is a function of the announcing event.
create table notice_matter (
    id            uuid primary key,
    case_id       uuid        not null references alert_case (id),
    site          text        not null,
    since         timestamptz not null,
    telling       integer     not null default 0,
    told_at       timestamptz,
    told_priority text,
    told_ice      boolean     not null default false,
    is_over       boolean     not null default false,
    check ((told_at is null) = (told_priority is null))
);
create unique index notice_matter_one on notice_matter (case_id) where not is_over;
create index notice_matter_by_site on notice_matter (site, told_at);

-- The outbox, and after that the log: one row for each notice to one receiver.
create table notice_delivery (
    id           uuid primary key,
    sequence     bigint generated always as identity,
    matter       uuid references notice_matter (id),
    site         text,
    kind         text        not null check (kind in ('raised', 'worse', 'over', 'passed', 'digest', 'test')),
    telling      integer     not null default 0,
    route        text        not null,
    step         integer     not null default 0,
    receiver     text        not null,
    channel      text        not null,
    target       text        not null,
    created_at   timestamptz not null,
    -- when it was first to leave; hours of the receiver are in it
    due_at       timestamptz not null,
    -- when it is tried next
    next_at      timestamptz not null,
    state        text        not null check (state in ('waiting', 'sending', 'sent', 'failed', 'cancelled')),
    attempts     integer     not null default 0,
    leased_until timestamptz,
    ended_at     timestamptz,
    -- fixed at the first attempt, so that a repeat says the same
    content      jsonb,
    detail       text        not null default '',
    check ((state = 'sending') = (leased_until is not null)),
    check ((state in ('sent', 'failed', 'cancelled')) = (ended_at is not null)),
    check ((matter is null) = (kind in ('digest', 'test'))),
    check (state <> 'sent' or content is not null)
);
create index notice_delivery_open on notice_delivery (next_at) where state in ('waiting', 'sending');
create index notice_delivery_by_matter on notice_delivery (matter, sequence);
create index notice_delivery_by_time on notice_delivery (sequence desc);

-- What has arrived or was withdrawn stays so; what was given up can be tried again.
create function refuse_delivery_change() returns trigger language plpgsql as $$
begin
    if old.state in ('sent', 'cancelled') and new.state <> old.state then
        raise exception 'notice % is % and stays so', old.id, old.state using errcode = 'check_violation';
    end if;
    if old.content is not null and new.content is distinct from old.content then
        raise exception 'notice % has left once with its content', old.id using errcode = 'check_violation';
    end if;
    return new;
end
$$;
create trigger notice_delivery_record before update on notice_delivery
    for each row execute function refuse_delivery_change();

-- Every attempt, and what people did. Grows only.
create table notice_attempt (
    id       bigint generated always as identity primary key,
    delivery uuid        not null,
    at       timestamptz not null,
    who      text        not null,
    outcome  text        not null,
    detail   text        not null
);
create index notice_attempt_by_delivery on notice_attempt (delivery, id);
create trigger notice_attempt_append_only before update or delete on notice_attempt
    for each row execute function refuse_change();
create trigger notice_attempt_no_truncate before truncate on notice_attempt
    for each statement execute function refuse_change();

-- One digest for each local day.
create table notice_digest (
    name text        not null,
    day  date        not null,
    at   timestamptz not null,
    primary key (name, day)
);

-- Receivers that answered that they want nothing any more.
create table notice_receiver_closed (
    name   text primary key,
    target text        not null,
    at     timestamptz not null,
    why    text        not null
);
