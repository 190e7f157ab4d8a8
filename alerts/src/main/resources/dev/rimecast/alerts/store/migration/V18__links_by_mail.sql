-- Links of sites by mail. No secret waits in the database: each attempt to send makes one, so that several open the same link.
create table site_link_secret (
    token_hash bytea       primary key,
    link       uuid        not null references site_link (id) on delete cascade,
    made_at    timestamptz not null
);
create index site_link_secret_by_link on site_link_secret (link);
insert into site_link_secret (token_hash, link, made_at) select token_hash, id, made_at from site_link;
alter table site_link drop column token_hash;
alter table site_link add column mailed_to text;

alter table notice_delivery add column site_link uuid references site_link (id) on delete set null;
alter table notice_delivery drop constraint notice_delivery_kind_check;
alter table notice_delivery add constraint notice_delivery_kind_check
    check (kind in ('raised', 'worse', 'over', 'passed', 'digest', 'test', 'link'));
alter table notice_delivery drop constraint notice_delivery_check2;
alter table notice_delivery add constraint notice_delivery_of_matter
    check ((matter is null) = (kind in ('digest', 'test', 'link')));
