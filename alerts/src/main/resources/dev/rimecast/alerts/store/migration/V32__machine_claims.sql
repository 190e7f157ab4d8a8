-- Machines of the register that somebody has put there on a page, and that machines.csv has not named since. A row here is why a file
-- that does not name its machine leaves it in the register. Who did what is in account_audit.
create table machine_claim (
    machine    text        primary key,
    claimed_at timestamptz not null,
    claimed_by text        not null
);
