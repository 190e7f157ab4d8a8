-- How a new or moved machine did in its first cycles: the newest word of each beginning, kept when the cycles are gone.
-- kin is what others of its model group did, as it was known then.
create table acceptance (
    machine text        not null,
    began   timestamptz not null,
    site    text        not null,
    at      timestamptz not null,
    cycles  integer     not null check (cycles > 0),
    verdict text        not null check (verdict in ('accepted', 'not-accepted', 'not-yet-known')),
    record  jsonb       not null,
    kin     jsonb       not null,
    primary key (machine, began)
);
