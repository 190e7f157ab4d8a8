-- What a person took on with a visit: planning may take off again what it added, and nothing else.
alter table visit
    add column agreed         text[]  not null default '{}',
    add column agreed_minutes integer not null default 0;
update visit set agreed_minutes = minutes,
    agreed = array(select need from visit_need where visit_need.visit = visit.id order by position)
where state = 'accepted';

-- When a need became known, as local time of the site. Planning brings what is open level with its next look.
alter table visit_need add column since timestamp not null default '1970-01-01 00:00';
