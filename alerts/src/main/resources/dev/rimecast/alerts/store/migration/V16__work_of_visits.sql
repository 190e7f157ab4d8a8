-- A report of work that names a visit names one that there is. Rows from before are taken as they are.
alter table work_report add foreign key (visit) references visit (id) not valid;
create index work_report_by_visit on work_report (visit) where visit is not null;
