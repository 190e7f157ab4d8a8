-- Newest values, one row a machine: a pack writes one row, where it was one for each channel.

-- Where a channel stands in a row; the order is the log's and only grows at its end.
create table channel_place (
    place   integer primary key,
    channel text    not null unique
);
insert into channel_place (channel, place)
select channel, place
from unnest(array ['evaporator_temperature', 'condenser_temperature', 'ambient_temperature', 'water_temperature',
    'supply_current', 'phase', 'controller_status', 'bin_full', 'drain_level', 'freeze_time', 'harvest_time',
    'pull_down_time', 'fill_time', 'drain_level_time', 'drain_run_time', 'water_volume', 'ice_mass'])
    with ordinality as c (channel, place);

create table latest_row (
    machine text             primary key,
    -- of all channels
    newest  timestamptz      not null,
    -- what channels without a number say; null where they never have
    phase   text,
    status  text,
    -- by place, ms since 1970; the smallest number where there is none yet
    times   bigint[]         not null,
    -- by place
    numbers double precision[] not null,
    -- grows with every write, so that a writer learns of another one
    version bigint           not null
) with (fillfactor = 50);

insert into latest_row (machine, newest, phase, status, times, numbers, version)
select l.machine, max(l.at), max(l.text) filter (where l.channel = 'phase'),
    max(l.text) filter (where l.channel = 'controller_status'),
    (select array_agg(coalesce((select (extract(epoch from o.at) * 1000)::bigint from latest_value o
        where o.machine = l.machine and o.channel = c.channel), -9223372036854775808) order by c.place)
        from channel_place c),
    (select array_agg(coalesce((select o.value from latest_value o
        where o.machine = l.machine and o.channel = c.channel), 0) order by c.place)
        from channel_place c),
    1
from latest_value l
group by l.machine;

drop table latest_value;

create view latest_value as
select r.machine, c.channel, to_timestamp(r.times[c.place] / 1000.0) as at, r.numbers[c.place] as value,
    case c.channel when 'phase' then r.phase when 'controller_status' then r.status else '' end as text
from latest_row r
join channel_place c on r.times[c.place] <> -9223372036854775808;
