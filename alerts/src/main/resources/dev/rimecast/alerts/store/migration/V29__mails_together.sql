-- Many sites with one trouble: what one receiver is told of them by mail goes together.

-- What hits the place that a notice is about, as its case has it; none for trouble of one machine.
alter table notice_delivery add column common text;
-- The notice in whose mail this one goes, and by whose id it arrives.
alter table notice_delivery add column goes_with uuid references notice_delivery (id) on delete set null;
create index notice_delivery_together on notice_delivery (goes_with) where goes_with is not null;
create index notice_delivery_of_many on notice_delivery (receiver, common, kind, ended_at)
    where state = 'sent' and common is not null and goes_with is null;
