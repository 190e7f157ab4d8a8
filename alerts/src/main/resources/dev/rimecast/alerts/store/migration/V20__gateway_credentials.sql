-- Keys of gateways, only their digests. A key that has ended stays, as the record of who gave it and who took it back.
create table gateway_credential (
    id uuid primary key,
    gateway text not null,
    kind text not null check (kind in ('secret', 'certificate')),
    sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
    until timestamptz,
    added_at timestamptz not null,
    added_by text not null,
    ended_at timestamptz,
    ended_by text,
    check ((ended_at is null) = (ended_by is null))
);

create index gateway_credential_gateway on gateway_credential (gateway, added_at desc);

-- One key, one gateway: else it would not tell which gateway shows it.
create unique index gateway_credential_in_force on gateway_credential (sha256) where ended_at is null;
