-- The firm's own books of rules, each with all its versions. The newest of each book is in force; a change is a row.
create table rule_version (
    book     text        not null check (book in ('priority', 'cases', 'life', 'advice')),
    version  integer     not null check (version >= 1),
    -- null follows the standard of whatever version of the product runs
    text     text,
    at       timestamptz not null,
    who      text        not null,
    why      text        not null check (btrim(why) <> ''),
    -- the version whose text it took up again; 0 is the standard
    restores integer check (restores >= 0 and restores < version),
    primary key (book, version)
);
create trigger rule_version_append_only
    before update or delete on rule_version
    for each row execute function refuse_change();
create trigger rule_version_no_truncate
    before truncate on rule_version
    for each statement execute function refuse_change();
