-- Who put a report in, and when: "who" is the person that it comes from, who may have no account.
alter table site_event add column entered_by text;
alter table site_event add column entered_at timestamptz;
create index site_event_by_machine on site_event (machine, happened) where machine is not null;
