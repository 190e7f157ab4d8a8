-- When bins were full: what the ice clock counts from. "ended" is null while it is full.
create table bin_full (
    machine text        not null,
    began   timestamptz not null,
    ended   timestamptz,
    primary key (machine, began),
    check (ended >= began)
);
create unique index bin_full_now on bin_full (machine) where ended is null;

-- Whether and when a site runs out of ice, as it was last reckoned.
create table ice_outlook (
    site       text primary key,
    reckoned   timestamptz not null,
    ice        text        not null check (ice in ('short', 'enough', 'not-known')),
    early      timestamptz,
    likely     timestamptz,
    late       timestamptz,
    kg_short   double precision,
    words      text        not null,
    check ((ice = 'short') = (early is not null) and (early is null) = (kg_short is null)),
    check (early <= likely and likely <= late)
);

-- "priority" is what the rules decided from now on; detection's own is in the finding.
alter table alert add column priority_why text not null default '';
alter table alert add column ice_out_at timestamptz;
