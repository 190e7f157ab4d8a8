-- A key of a gateway is ended and never taken away, changed or brought back: the table says who gave it and who took it back.
create function refuse_credential_change() returns trigger language plpgsql as $$
begin
    if old.ended_at is not null
        or (new.id, new.gateway, new.kind, new.sha256, new.added_at, new.added_by)
            is distinct from (old.id, old.gateway, old.kind, old.sha256, old.added_at, old.added_by)
        or new.until > old.until
        or (new.until is null and old.until is not null) then
        raise exception 'gateway_credential: a key can only be ended, and once';
    end if;
    return new;
end
$$;
create trigger gateway_credential_only_ends before update on gateway_credential
    for each row execute function refuse_credential_change();
create trigger gateway_credential_stays before delete on gateway_credential
    for each row execute function refuse_change();
create trigger gateway_credential_no_truncate before truncate on gateway_credential
    for each statement execute function refuse_change();
