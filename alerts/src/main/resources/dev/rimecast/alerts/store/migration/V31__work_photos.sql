-- Photos of work: each a JPEG without anything but its picture, at most four for a report. Grows only, as reports do. The id is
-- made by whoever sends it, so that a photo that is sent twice is one row.
create table work_photo (
    id         uuid        primary key,
    report     uuid        not null references work_report (id),
    position   integer     not null check (position between 0 and 3),
    width      integer     not null check (width > 0),
    height     integer     not null check (height > 0),
    -- a MiB as it was sent, and a head of ours
    jpeg       bytea       not null check (octet_length(jpeg) between 4 and 1048640),
    sha256     bytea       not null check (sha256 = sha256(jpeg)),
    entered_by text        not null,
    entered_at timestamptz not null,
    unique (report, position)
);
-- What is packed already is not packed again.
alter table work_photo alter column jpeg set storage external;

create trigger work_photo_append_only
    before update or delete on work_photo
    for each row execute function refuse_change();
create trigger work_photo_no_truncate
    before truncate on work_photo
    for each statement execute function refuse_change();
