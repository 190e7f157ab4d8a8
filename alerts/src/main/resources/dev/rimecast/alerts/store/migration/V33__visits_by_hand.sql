-- What somebody asked for who made a visit by hand; null where planning made it.
alter table visit
    add column asked_machines text[],
    add column asked_reason   text,
    add column asked_job      text,
    add column asked_minutes  integer check (asked_minutes > 0),
    add constraint visit_asked_as_a_whole check (num_nulls(asked_machines, asked_reason, asked_job, asked_minutes) in (0, 4));
