-- What engineers wrote down after work on a machine. Grows only: a wrong report is put right by another. The id is made by
-- whoever writes it, so that a report that is sent twice is one row.
create table work_report (
    id          uuid        primary key,
    site        text        not null,
    machine     text        not null,
    happened    timestamptz not null,
    -- a cause of the contract, nothing-found, or something-else with its text
    found       text        not null,
    found_text  text        not null,
    origin      text        check (origin in ('site', 'wear', 'part', 'circuit', 'link')),
    charge      text        check (charge in ('chargeable', 'warranty')),
    job         text        not null,
    note        text        not null,
    who         text        not null,
    certificate text        not null,
    visit       uuid,
    case_id     uuid,
    entered_by  text        not null,
    entered_at  timestamptz not null,
    check ((found = 'something-else') = (found_text <> ''))
);
create index work_report_by_machine on work_report (machine, happened);
create index work_report_by_site on work_report (site, happened);

create table work_done (
    report   uuid    not null references work_report (id),
    position integer not null check (position >= 0),
    what     text    not null,
    -- part, sensor, refrigerant, or words
    detail   text    not null,
    grams    integer check (grams > 0),
    primary key (report, position)
);

create trigger work_report_append_only
    before update or delete on work_report
    for each row execute function refuse_change();
create trigger work_report_no_truncate
    before truncate on work_report
    for each statement execute function refuse_change();
create trigger work_done_append_only
    before update or delete on work_done
    for each row execute function refuse_change();
create trigger work_done_no_truncate
    before truncate on work_done
    for each statement execute function refuse_change();
