-- Who may come in. Times are of the wall clock. Tokens and links are kept as SHA-256 only, passwords as Argon2id.

create table account (
    id            uuid primary key,
    name          text        not null,
    role          text        not null,
    -- null is every site
    sites         text[],
    demo          boolean     not null,
    password_hash text,
    created_at    timestamptz not null,
    disabled_at   timestamptz,
    check (not demo or password_hash is null)
);
create unique index account_by_name on account (lower(name));

create table account_session (
    id         uuid primary key,
    token_hash bytea       not null unique,
    account    uuid        not null references account (id),
    began_at   timestamptz not null,
    used_at    timestamptz not null,
    ends_at    timestamptz not null,
    address    text        not null,
    client     text        not null
);
create index account_session_by_account on account_session (account, began_at);

create table api_token (
    id         uuid primary key,
    token_hash bytea       not null unique,
    account    uuid        not null references account (id),
    name       text        not null,
    role       text        not null,
    sites      text[],
    made_at    timestamptz not null,
    ends_at    timestamptz not null,
    used_at    timestamptz,
    revoked_at timestamptz
);
create index api_token_by_account on api_token (account);

-- One open link for each purpose: of the first account (null), or of an account's password.
create table account_link (
    link_hash bytea primary key,
    account   uuid references account (id),
    made_at   timestamptz not null,
    ends_at   timestamptz not null
);
create unique index account_link_one on account_link (coalesce(account, '00000000-0000-0000-0000-000000000000'::uuid));

create table account_audit (
    id      bigint generated always as identity primary key,
    at      timestamptz not null,
    who     text        not null,
    account uuid,
    what    text        not null,
    detail  text        not null
);
create index account_audit_by_account on account_audit (account, id);
create trigger account_audit_append_only before update or delete on account_audit
    for each row execute function refuse_change();
create trigger account_audit_no_truncate before truncate on account_audit
    for each statement execute function refuse_change();
