-- What analysts say of a machine's past, for back-tests: whether something was wrong, and of what cause. A mark stays as it is. A later
-- one of the same person, machine and span goes before it; one that is withdrawn counts no longer, and stays, too.
create table mark (
    id       uuid        primary key,
    sequence bigint      not null generated always as identity,
    machine  text        not null,
    -- where the machine stood when it was marked
    site     text        not null,
    -- the alert that was looked at
    alert    uuid,
    began    timestamptz not null,
    ended    timestamptz not null check (began < ended),
    verdict  text        not null check (verdict in ('real', 'not', 'unknown')),
    -- empty where nobody knows it; only of what was real
    cause    text        not null check (cause = '' or verdict = 'real'),
    note     text        not null,
    at       timestamptz not null,
    who      text        not null
);
create index mark_by_machine on mark (machine, sequence);
create trigger mark_append_only
    before update or delete on mark
    for each row execute function refuse_change();
create trigger mark_no_truncate
    before truncate on mark
    for each statement execute function refuse_change();

create table mark_withdrawn (
    mark uuid        primary key references mark (id),
    at   timestamptz not null,
    who  text        not null
);
create trigger mark_withdrawn_append_only
    before update or delete on mark_withdrawn
    for each row execute function refuse_change();
create trigger mark_withdrawn_no_truncate
    before truncate on mark_withdrawn
    for each statement execute function refuse_change();
