-- An alert that is new was normal a moment ago: it begins where a legal step from there leads, or is over already. After the
-- insert, since a row that is known is written as an insert, too, and becomes an update.
create function refuse_illegal_start() returns trigger language plpgsql as $$
begin
    if new.state <> 'normal'
        and not exists (select 1 from alert_step where from_state = 'normal' and to_state = new.state) then
        raise exception 'alert % can''t begin as %', new.id, new.state using errcode = 'check_violation';
    end if;
    if new.seen_stage is not null or new.acknowledged_at is not null then
        raise exception 'alert % can''t begin as seen', new.id using errcode = 'check_violation';
    end if;
    return null;
end
$$;
create trigger alert_legal_start after insert on alert for each row execute function refuse_illegal_start();
