-- Links by which a site answers without an account: of one case and one machine, for a while. The secret is kept as SHA-256 only.

create table site_link (
    id         uuid primary key,
    token_hash bytea       not null unique,
    case_id    uuid        not null references alert_case (id),
    site       text        not null,
    machine    text        not null,
    made_by    text        not null,
    made_at    timestamptz not null,
    ends_at    timestamptz not null,
    revoked_by text,
    revoked_at timestamptz,
    -- when "still no ice" was passed on as a call, once
    called_at  timestamptz,
    check (ends_at > made_at),
    check ((revoked_by is null) = (revoked_at is null))
);
create index site_link_by_case on site_link (case_id);
create index site_link_by_time on site_link (made_at);

create table site_link_answer (
    link       uuid        not null references site_link (id),
    step       integer     not null check (step between 1 and 3),
    check_id   text        not null,
    answer     text        not null,
    -- in words, as they were then
    about      text        not null,
    words      text        not null,
    puts_right boolean     not null,
    at         timestamptz not null,
    primary key (link, step),
    unique (link, check_id)
);
