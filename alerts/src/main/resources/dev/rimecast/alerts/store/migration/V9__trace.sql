-- How evaporator and condenser went within a bucket: the first value of every 20 s, so that one cycle can be drawn.
-- 15 big-endian 16-bit hundredths of a degree for the evaporator, then 15 for the condenser; -32768 where there is none.
-- Null for buckets of before and for those with neither.
alter table rollup_5min add column trace bytea;
