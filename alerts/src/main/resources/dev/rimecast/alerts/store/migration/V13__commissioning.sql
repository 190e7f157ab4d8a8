-- Records of commissioning: every item of the machine's checklist, in the words that it had then. Grows only.
create table commissioning (
    id         uuid        primary key,
    site       text        not null,
    machine    text        not null,
    happened   timestamptz not null,
    note       text        not null,
    who        text        not null,
    job        text        not null,
    entered_by text        not null,
    entered_at timestamptz not null
);
create index commissioning_by_machine on commissioning (machine, happened);

create table commissioning_answer (
    record   uuid    not null references commissioning (id),
    position integer not null check (position >= 0),
    item     text    not null,
    words    text    not null,
    result   text    not null check (result in ('ok', 'not-ok', 'does-not-apply')),
    note     text    not null check (result = 'ok' or btrim(note) <> ''),
    primary key (record, position)
);

create trigger commissioning_append_only
    before update or delete on commissioning
    for each row execute function refuse_change();
create trigger commissioning_answer_append_only
    before update or delete on commissioning_answer
    for each row execute function refuse_change();
