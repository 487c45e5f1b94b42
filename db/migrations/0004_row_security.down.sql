do $$ declare p record; begin
  for p in select tablename, policyname from pg_policies where schemaname = 'public' loop
    execute format('drop policy %I on %I', p.policyname, p.tablename);
  end loop;
end $$;
revoke all on all tables in schema public from rungbook_app;
revoke usage on schema public from rungbook_app;
