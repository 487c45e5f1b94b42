do $$
declare
  actor  text := $x$(select nullif(current_setting('app.actor', true), '')::uuid)$x$;
  owner  text := $x$(select coalesce(nullif(current_setting('app.owner', true), ''), 'off')::boolean)$x$;
  guards text := $x$any((select coalesce(nullif(current_setting('app.guards', true), ''), '{}')::uuid[])::uuid[])$x$;
begin
  drop policy take_back on invitation;
  drop policy let_in on invitation;
  drop policy own on invitation;
  drop policy let_in on guardian;
  drop policy beside on guardian;
  drop policy read on report_release;
  execute format('create policy read on report_release for select using (child_id = %s)', guards);
  drop policy report on soreness;
  execute format('create policy report on soreness for insert with check (%s or child_id = %s and reported_by = %s)', owner, guards, actor);
  drop policy report on care_limit;
  execute format('create policy report on care_limit for insert with check (child_id = %s and set_by = %s and cleared_at is null and until_on is null)', guards, actor);
end $$;
drop table recovery_code, second_factor, passkey, account_browser;
alter table invitation drop column rights;
alter table guardian drop column invited_by, drop column called, drop column rights;
alter table session drop column browser, drop column id;
