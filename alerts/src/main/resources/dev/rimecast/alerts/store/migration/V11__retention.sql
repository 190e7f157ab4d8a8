-- The log of notices has an age. An attempt can go only when its notice has gone; nothing else about it can change.
create function refuse_attempt_change() returns trigger language plpgsql as $$
begin
    if tg_op = 'DELETE' and not exists (select 1 from notice_delivery where id = old.delivery) then
        return old;
    end if;
    raise exception 'notice_attempt is append-only: % refused', lower(tg_op);
end
$$;
drop trigger notice_attempt_append_only on notice_attempt;
create trigger notice_attempt_append_only
    before update or delete on notice_attempt
    for each row execute function refuse_attempt_change();

-- What is to be looked at for its age.
create index alert_case_closed on alert_case (closed_at) where closed_at is not null;
create index notice_matter_by_case on notice_matter (case_id);
create index notice_delivery_of_no_matter on notice_delivery (ended_at) where matter is null;
