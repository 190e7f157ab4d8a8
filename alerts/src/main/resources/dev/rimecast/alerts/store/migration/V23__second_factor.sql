-- A second factor of an account: one-time codes by time (RFC 6238). Its secret has to be kept as it is, since codes are computed
-- from it. One that was not confirmed with a code yet lets nobody in and asks for nothing.

create table account_second_factor (
    account      uuid primary key references account (id),
    secret       bytea       not null,
    made_at      timestamptz not null,
    confirmed_at timestamptz,
    -- the newest step of 30 s whose code was used: none is taken twice
    last_step    bigint      not null default 0
);

-- Codes for when the device is lost, each for once; of 120 random bits, so that a plain SHA-256 is enough.
create table account_recovery_code (
    code_hash bytea primary key,
    account   uuid        not null references account (id),
    made_at   timestamptz not null,
    used_at   timestamptz
);
create index account_recovery_code_by_account on account_recovery_code (account);
