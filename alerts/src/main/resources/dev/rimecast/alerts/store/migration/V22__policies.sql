-- Every policy of detection that was ever in force, in order; the newest is. A change is a row, and a row stays as it is.
create table policy_change (
    number   integer     primary key check (number >= 1),
    -- its name in the sites' logs, whose text is in policy_version
    version  text        not null,
    yaml     text        not null,
    source   text        not null check (source in ('product', 'file', 'person')),
    at       timestamptz not null,
    who      text        not null,
    why      text        not null check (btrim(why) <> ''),
    -- the change whose text it took up again
    restores integer     check (restores >= 1 and restores < number),
    -- the trial that it was tried in
    trial    integer
);
insert into policy_change (number, version, yaml, source, at, who, why)
select row_number() over (order by sequence), version, yaml, 'file', activated_at, 'start of the server',
    'from before changes were kept with who and why'
from policy_version;
create trigger policy_change_append_only
    before update or delete on policy_change
    for each row execute function refuse_change();
create trigger policy_change_no_truncate
    before truncate on policy_change
    for each statement execute function refuse_change();

-- Policies that run beside the one in force and notify nobody. What comes of one is in its result once it has ended.
create table policy_trial (
    id         integer     primary key check (id >= 1),
    yaml       text        not null,
    base       integer     not null references policy_change (number),
    started_at timestamptz not null,
    started_by text        not null,
    why        text        not null check (btrim(why) <> ''),
    -- records of the sites' logs that arrived after this are decided by it, too
    since      timestamptz not null,
    ended_at   timestamptz,
    ended_by   text,
    ended_why  text        check (btrim(ended_why) <> ''),
    outcome    text        check (outcome in ('promoted', 'dropped')),
    result     text,
    check ((ended_at is null) = (outcome is null)),
    check ((ended_at is null) = (ended_by is null)),
    check ((ended_at is null) = (ended_why is null))
);
-- One at a time.
create unique index policy_trial_running on policy_trial ((true)) where ended_at is null;
