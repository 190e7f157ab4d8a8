-- Whether recorded work has held, as analytics says it: the newest revision, and what was said at each look before.
create table proof (
    id         uuid primary key,
    site       text        not null,
    machine    text        not null,
    worked_at  timestamptz not null,
    revision   integer     not null,
    at         timestamptz not null,
    verdict    text        not null,
    last       boolean     not null,
    record     jsonb       not null
);

create index proof_of_machine on proof (machine, worked_at desc);

create table proof_look (
    proof    uuid        not null references proof (id) on delete cascade,
    looked   text        not null,
    revision integer     not null,
    at       timestamptz not null,
    verdict  text        not null,
    summary  text        not null,
    primary key (proof, looked)
);
