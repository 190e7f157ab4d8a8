-- Visits: who goes to which site, when, and what for. Days and minutes are local ones of the site.
create table visit (
    id          uuid primary key,
    site        text        not null,
    day         date        not null,
    from_minute integer     not null check (from_minute between 0 and 1439),
    minutes     integer     not null check (minutes > 0),
    engineer    text        not null,
    state       text        not null check (state in ('proposed', 'accepted', 'done', 'cancelled')),
    sequence    integer     not null check (sequence >= 0),
    note        text        not null,
    created_at  timestamptz not null,
    changed_at  timestamptz not null,
    changed_by  text        not null
);
create index visit_by_day on visit (day);
create index visit_by_site on visit (site, day);

-- What a visit is for, as it was when it was last planned. "open" is whether its visit is proposed or accepted.
create table visit_need (
    visit    uuid    not null references visit (id),
    position integer not null,
    need     text    not null,
    open     boolean not null,
    kind     text    not null check (kind in ('case', 'care')),
    ref      uuid    not null,
    title    text    not null,
    why      text    not null,
    machines text[]  not null,
    earliest date    not null,
    latest   date,
    minutes  integer not null check (minutes > 0),
    skills   text[]  not null,
    parts    text[]  not null,
    site_can_check boolean not null,
    problem  text    not null,
    primary key (visit, need)
);
-- Planning sees to this; the index is the second wall.
create unique index visit_need_on_one_open_visit on visit_need (need) where open;

-- Who did what to a visit, when and why. Grows only.
create table visit_audit (
    id    bigint generated always as identity primary key,
    visit uuid        not null,
    at    timestamptz not null,
    who   text        not null,
    what  text        not null,
    why   text        not null
);
create index visit_audit_by_visit on visit_audit (visit, id);
create trigger visit_audit_append_only before update or delete on visit_audit
    for each row execute function refuse_change();
create trigger visit_audit_no_truncate before truncate on visit_audit
    for each statement execute function refuse_change();

-- Secret links by which calendar programs read visits; the secret is kept as SHA-256 only.
create table calendar_link (
    id         uuid primary key,
    token_hash bytea       not null unique,
    account    uuid        not null,
    -- whose visits; null for all engineers
    engineer   text,
    made_by    text        not null,
    made_at    timestamptz not null,
    revoked_by text,
    revoked_at timestamptz,
    check ((revoked_by is null) = (revoked_at is null))
);
create index calendar_link_by_account on calendar_link (account);
