-- The schema after all migrations, for review; PostgreSQL 15.
CREATE FUNCTION public.audit_chain() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
declare
  last audit_link;
begin
  perform pg_advisory_xact_lock(hashtext('rungbook.audit_link'));
  select * into last from audit_link order by seq desc limit 1;
  insert into audit_link values (coalesce(last.seq, 0) + 1, new.id, audit_hash(coalesce(last.hash, decode(repeat('00', 32), 'hex')), new));
  return null;
end $$;
COMMENT ON FUNCTION public.audit_chain() IS 'Runs at commit, so that transactions stand in line for their last moment only, and none can wait for another in a circle.';
CREATE TABLE public.audit (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    at timestamp with time zone NOT NULL,
    actor uuid,
    action text NOT NULL,
    subject text NOT NULL,
    detail jsonb DEFAULT '{}'::jsonb NOT NULL
);
ALTER TABLE ONLY public.audit FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.audit IS 'Who did what to what. Insert-only for the serving role. actor is null for the program''s own commands.';
CREATE FUNCTION public.audit_hash(before bytea, entry public.audit) RETURNS bytea
    LANGUAGE sql STABLE
    AS $$
  select sha256(before || convert_to(jsonb_build_array(entry.id, to_char(entry.at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'), entry.actor, entry.action,
    entry.subject, entry.detail)::text, 'UTF8'))
$$;
COMMENT ON FUNCTION public.audit_hash(before bytea, entry public.audit) IS 'SHA-256 over the hash before (32 zero bytes for the first) and the row as a JSON array in UTF-8, as PostgreSQL writes jsonb.';
CREATE FUNCTION public.home_assignment_has_exception() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  if new.exception_id is null or new.withdrawn_at is not null then
    return new;
  end if;
  perform from home_exception x where x.id = new.exception_id and x.ended_at is null and new.from_on >= x.ticked_on and new.until_on <= x.until_on for share;
  if not found then
    raise exception 'no exception for this drill is live over these days' using errcode = 'check_violation', constraint = 'home_assignment_has_exception';
  end if;
  return new;
end $$;
CREATE FUNCTION public.home_assignment_obeys_limits() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  if new.withdrawn_at is null and exists (
    select from drill d join care_limit l on l.child_id = new.child_id
    where d.key = new.drill_key and l.cleared_at is null and l.from_on <= new.until_on and coalesce(l.until_on, 'infinity') >= new.from_on
      and (l.avoid_back and d.load_back > 0 or l.avoid_wrists and d.load_wrists > 0 or l.avoid_landing and d.load_landing > 0
           or l.avoid_inverted and d.inverted)) then
    raise exception 'a care limit of the child forbids this drill' using errcode = 'check_violation', constraint = 'home_assignment_obeys_limits';
  end if;
  return new;
end $$;
CREATE FUNCTION public.home_exception_keeps() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  if old.ended_at is not null and (new.ended_at, new.ended_how) is distinct from (old.ended_at, old.ended_how)
    or new.ticked_by is distinct from old.ticked_by and new.ticked_by is not null
    or new.ended_by is distinct from old.ended_by and new.ended_by is not null and old.ended_at is not null
    or to_jsonb(new) - '{ended_at,ended_how,ended_by,ticked_by,drill_key,spotters}'::text[]
      is distinct from to_jsonb(old) - '{ended_at,ended_how,ended_by,ticked_by,drill_key,spotters}'::text[] then
    raise exception 'home_exception is append-only' using errcode = 'restrict_violation', constraint = 'home_exception_append_only';
  end if;
  return new;
end $$;
CREATE FUNCTION public.home_exception_withdraws() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  update home_assignment set withdrawn_at = new.ended_at where exception_id = new.id and withdrawn_at is null;
  return null;
end $$;
COMMENT ON FUNCTION public.home_exception_withdraws() IS 'What was sent by an exception ends with it, in the same transaction.';
CREATE FUNCTION public.keep_words() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  if to_jsonb(new) - tg_argv[0] = to_jsonb(old) - tg_argv[0] and to_jsonb(new) ->> tg_argv[0] is null then
    return new; -- the account is gone
  end if;
  raise exception '% is append-only', tg_table_name using errcode = 'restrict_violation', constraint = tg_table_name || '_append_only';
end $$;
CREATE FUNCTION public.lesson_revised() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  new.revision := old.revision + 1;
  new.changed_at := now();
  return new;
end $$;
CREATE FUNCTION public.refuse_archived() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
declare
  changed jsonb;
  away boolean;
begin
  if tg_op = 'DELETE' then
    changed := to_jsonb(old);
  else
    changed := to_jsonb(new);
  end if;
  case tg_argv[0]
    when 'term' then
      select m.archived_at is not null into away from term m where m.id = (changed->>'term_id')::uuid;
    when 'class' then
      select m.archived_at is not null into away from class c join term m on m.id = c.term_id where c.id = (changed->>'class_id')::uuid;
    when 'lesson' then
      select m.archived_at is not null into away from lesson l join class c on c.id = l.class_id join term m on m.id = c.term_id
        where l.id = (changed->>'lesson_id')::uuid;
    else
      away := changed->>'archived_at' is not null and (tg_op = 'DELETE' or old.archived_at is not null);
  end case;
  if away then
    raise exception 'the term is put away' using errcode = 'check_violation', constraint = 'term_is_put_away';
  end if;
  if tg_op = 'DELETE' then
    return old;
  end if;
  return new;
end $$;
CREATE FUNCTION public.refuse_change() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  raise exception '% is append-only', tg_table_name using errcode = 'restrict_violation', constraint = tg_table_name || '_append_only';
end $$;
CREATE FUNCTION public.sign_off_is_not_for_trainees() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
begin
  if exists (select from staff s where s.id = new.staff_id and s.trainee) then
    raise exception 'a trainee does not spot' using errcode = 'check_violation', constraint = 'sign_off_is_not_for_trainees';
  end if;
  return new;
end $$;
CREATE TABLE public.account (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    email text NOT NULL,
    name text NOT NULL COLLATE pg_catalog."und-x-icu",
    joined_at timestamp with time zone,
    disabled_at timestamp with time zone,
    created_at timestamp with time zone DEFAULT now() NOT NULL,
    language text DEFAULT ''::text NOT NULL,
    CONSTRAINT account_email_check CHECK (((email = lower(email)) AND (email ~~ '%_@_%'::text) AND (length(email) <= 254))),
    CONSTRAINT account_language_check CHECK (((language = ''::text) OR ((language ~ '^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$'::text) AND (length(language) <= 35)))),
    CONSTRAINT account_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 120)))
);
ALTER TABLE ONLY public.account FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.account IS 'Somebody who may sign in. What they may see follows from account_role, staff and guardian.';
COMMENT ON COLUMN public.account.joined_at IS 'When a passphrase was first chosen; null while nobody can sign in with it, as after a roster named a guardian.';
COMMENT ON COLUMN public.account.disabled_at IS 'Set to lock the account out on its next request; rows it wrote stay.';
COMMENT ON COLUMN public.account.language IS 'The BCP 47 tag of the language that its holder chose; empty lets the browser say.';
CREATE TABLE public.account_browser (
    account_id uuid NOT NULL,
    browser text NOT NULL,
    since timestamp with time zone NOT NULL,
    CONSTRAINT account_browser_browser_check CHECK ((length(browser) <= 80))
);
ALTER TABLE ONLY public.account_browser FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.account_browser IS 'Kinds of browser from which an account has signed in: from a new one, its holder is told.';
CREATE TABLE public.account_note (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    account_id uuid NOT NULL,
    at timestamp with time zone NOT NULL,
    kind text NOT NULL,
    about text DEFAULT ''::text NOT NULL,
    CONSTRAINT account_note_about_check CHECK ((length(about) <= 254)),
    CONSTRAINT account_note_kind_check CHECK ((kind ~ '^[a-z-]{1,40}$'::text))
);
ALTER TABLE ONLY public.account_note FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.account_note IS 'What its holder is told about an account: on the page of the account, and by e-mail where there is a mail server.';
CREATE TABLE public.account_role (
    account_id uuid NOT NULL,
    role text NOT NULL,
    granted_at timestamp with time zone DEFAULT now() NOT NULL,
    CONSTRAINT account_role_role_check CHECK ((role = ANY (ARRAY['owner'::text, 'teacher'::text, 'assistant'::text])))
);
ALTER TABLE ONLY public.account_role FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.account_role IS 'Roles given by the studio. Being a parent is not a role here: it follows from guardian.';
CREATE TABLE public.account_secret (
    account_id uuid NOT NULL,
    password_hash text NOT NULL,
    changed_at timestamp with time zone DEFAULT now() NOT NULL
);
ALTER TABLE ONLY public.account_secret FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.account_secret IS 'Apart from account so that the owner can list accounts without reading any hash.';
CREATE TABLE public.attendance (
    lesson_id uuid NOT NULL,
    child_id uuid NOT NULL,
    present boolean NOT NULL,
    noted_by uuid,
    noted_at timestamp with time zone NOT NULL
);
ALTER TABLE ONLY public.attendance FORCE ROW LEVEL SECURITY;
CREATE TABLE public.audit_link (
    seq bigint NOT NULL,
    audit_id uuid NOT NULL,
    hash bytea NOT NULL,
    CONSTRAINT audit_link_hash_check CHECK ((length(hash) = 32))
);
ALTER TABLE ONLY public.audit_link FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.audit_link IS 'Insert-only: the trail in the order of its commits. A row that is changed, removed or slipped in later breaks the chain from there on.';
CREATE TABLE public.calendar_feed (
    account_id uuid NOT NULL,
    token_hash bytea NOT NULL,
    made_at timestamp with time zone NOT NULL,
    read_at timestamp with time zone,
    CONSTRAINT calendar_feed_token_hash_check CHECK ((length(token_hash) = 32))
);
ALTER TABLE ONLY public.calendar_feed FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.calendar_feed IS 'A guardian''s link for calendar programs. Only the SHA-256 of its secret is kept: a new link replaces it, and deleting the row ends it.';
COMMENT ON COLUMN public.calendar_feed.read_at IS 'When a calendar program last asked for it.';
CREATE TABLE public.care_change (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    care_limit_id uuid NOT NULL,
    child_id uuid NOT NULL,
    at timestamp with time zone NOT NULL,
    by_account uuid,
    what text NOT NULL,
    until_on date,
    review_on date,
    note text DEFAULT ''::text NOT NULL,
    CONSTRAINT care_change_note_check CHECK ((length(note) <= 400)),
    CONSTRAINT care_change_what_check CHECK ((what = ANY (ARRAY['set'::text, 'extended'::text, 'cleared'::text, 'reason read'::text])))
);
ALTER TABLE ONLY public.care_change FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.care_change IS 'Append-only: only select and insert are granted. The note of clearing a limit may tell why it was set, so it is kept here, where assistants do not read, and not beside the limit.';
COMMENT ON COLUMN public.care_change.until_on IS 'The last day and the day to look again, as they were after the change.';
CREATE TABLE public.care_limit (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    avoid_back boolean DEFAULT false NOT NULL,
    avoid_wrists boolean DEFAULT false NOT NULL,
    avoid_landing boolean DEFAULT false NOT NULL,
    avoid_inverted boolean DEFAULT false NOT NULL,
    action text NOT NULL,
    from_on date NOT NULL,
    until_on date,
    review_on date,
    set_by uuid,
    set_at timestamp with time zone NOT NULL,
    cleared_at timestamp with time zone,
    cleared_by uuid,
    CONSTRAINT care_limit_action_check CHECK (((length(TRIM(BOTH FROM action)) >= 1) AND (length(TRIM(BOTH FROM action)) <= 160))),
    CONSTRAINT care_limit_check CHECK ((until_on >= from_on)),
    CONSTRAINT care_limit_check1 CHECK ((avoid_back OR avoid_wrists OR avoid_landing OR avoid_inverted))
);
ALTER TABLE ONLY public.care_limit FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.care_limit.action IS 'What to do, never why: this is what assistants read.';
CREATE TABLE public.care_limit_reason (
    care_limit_id uuid NOT NULL,
    reason text NOT NULL
);
ALTER TABLE ONLY public.care_limit_reason FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.care_limit_reason IS 'Apart from care_limit: teachers of the child and the owner only; reads are written to audit.';
CREATE TABLE public.cause (
    rung_key text NOT NULL,
    fault_key text NOT NULL,
    key text NOT NULL,
    "position" integer NOT NULL,
    name text NOT NULL,
    strength double precision NOT NULL,
    cue text NOT NULL,
    prior double precision DEFAULT 0 NOT NULL,
    leads_to text[] DEFAULT '{}'::text[] NOT NULL,
    look_for text DEFAULT ''::text NOT NULL,
    CONSTRAINT cause_key_check CHECK ((key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'::text)),
    CONSTRAINT cause_look_for_check CHECK ((length(look_for) <= 200)),
    CONSTRAINT cause_prior_check CHECK (((prior >= (0)::double precision) AND (prior < (1)::double precision))),
    CONSTRAINT cause_strength_check CHECK (((strength > (0)::double precision) AND (strength <= (1)::double precision)))
);
ALTER TABLE ONLY public.cause FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.cause.strength IS 'Chance that the cause alone shows as the fault (noisy-OR). The studio''s setting.';
COMMENT ON COLUMN public.cause.prior IS 'How likely the cause is before anything is seen; 0 takes the program''s guess. A cause that stands at several faults of a rung is one: the first that says something counts, here and in the columns after this.';
COMMENT ON COLUMN public.cause.leads_to IS 'Keys of causes of the same rung that this one brings about: it is corrected before them.';
COMMENT ON COLUMN public.cause.look_for IS 'What a teacher looks for or asks to find out whether this is the cause.';
CREATE TABLE public.cause_drill (
    rung_key text NOT NULL,
    fault_key text NOT NULL,
    cause_key text NOT NULL,
    drill_key text NOT NULL
);
ALTER TABLE ONLY public.cause_drill FORCE ROW LEVEL SECURITY;
CREATE TABLE public.child (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    given_name text NOT NULL COLLATE pg_catalog."und-x-icu",
    initial text NOT NULL,
    joined_on date NOT NULL,
    left_on date,
    erased_at timestamp with time zone,
    CONSTRAINT child_given_name_check CHECK (((length(TRIM(BOTH FROM given_name)) >= 1) AND (length(TRIM(BOTH FROM given_name)) <= 80))),
    CONSTRAINT child_initial_check CHECK ((length(initial) <= 8))
);
ALTER TABLE ONLY public.child FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.child IS 'What an assistant may see of a child: first name and initial.';
COMMENT ON COLUMN public.child.erased_at IS 'The row is a tombstone: nobody can be known from it. Marks and attendance stay with it, so that sums over a class stay what they were.';
CREATE TABLE public.child_detail (
    child_id uuid NOT NULL,
    family_name text NOT NULL COLLATE pg_catalog."und-x-icu",
    birth_date date NOT NULL,
    contact text DEFAULT ''::text NOT NULL,
    roster_ref text,
    CONSTRAINT child_detail_family_name_check CHECK (((length(TRIM(BOTH FROM family_name)) >= 1) AND (length(TRIM(BOTH FROM family_name)) <= 80)))
);
ALTER TABLE ONLY public.child_detail FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.child_detail IS 'Apart from child: teachers of the child, its guardians and the owner only.';
COMMENT ON COLUMN public.child_detail.roster_ref IS 'The studio''s own number for the child; makes importing a roster twice harmless.';
CREATE TABLE public.child_effort (
    lesson_id uuid NOT NULL,
    child_id uuid NOT NULL,
    effort integer NOT NULL,
    noted_by uuid,
    noted_at timestamp with time zone NOT NULL,
    CONSTRAINT child_effort_effort_check CHECK (((effort >= 0) AND (effort <= 10)))
);
ALTER TABLE ONLY public.child_effort FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.child_effort IS 'A child for whom the lesson was harder or easier than for the class.';
CREATE TABLE public.child_note (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    note text NOT NULL,
    written_by uuid,
    written_at timestamp with time zone NOT NULL,
    CONSTRAINT child_note_note_check CHECK (((length(TRIM(BOTH FROM note)) >= 1) AND (length(TRIM(BOTH FROM note)) <= 2000)))
);
ALTER TABLE ONLY public.child_note FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.child_note IS 'What a teacher wants the child''s next teacher to know. Append-only. For teachers of the child and the owner; never for assistants or parents.';
CREATE TABLE public.class (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    term_id uuid NOT NULL,
    name text NOT NULL COLLATE pg_catalog."und-x-icu",
    weekday integer NOT NULL,
    starts_at time without time zone NOT NULL,
    minutes integer NOT NULL,
    time_zone text NOT NULL,
    places integer DEFAULT 20 NOT NULL,
    rotations integer DEFAULT 3 NOT NULL,
    groups integer DEFAULT 3 NOT NULL,
    turn_floor integer DEFAULT 6 NOT NULL,
    max_activities integer DEFAULT 2 NOT NULL,
    teacher_roams boolean DEFAULT false NOT NULL,
    focus text[] DEFAULT '{}'::text[] NOT NULL,
    CONSTRAINT class_groups_check CHECK (((groups >= 1) AND (groups <= 8))),
    CONSTRAINT class_max_activities_check CHECK (((max_activities >= 1) AND (max_activities <= 4))),
    CONSTRAINT class_minutes_check CHECK (((minutes >= 20) AND (minutes <= 180))),
    CONSTRAINT class_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 80))),
    CONSTRAINT class_places_check CHECK (((places >= 1) AND (places <= 60))),
    CONSTRAINT class_rotations_check CHECK (((rotations >= 1) AND (rotations <= 6))),
    CONSTRAINT class_turn_floor_check CHECK (((turn_floor >= 0) AND (turn_floor <= 60))),
    CONSTRAINT class_weekday_check CHECK (((weekday >= 0) AND (weekday <= 6)))
);
ALTER TABLE ONLY public.class FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.class.weekday IS '0 is Sunday, as in Go''s time.Weekday.';
COMMENT ON COLUMN public.class.starts_at IS 'Wall time in time_zone: stays the same across a clock change.';
COMMENT ON COLUMN public.class.turn_floor IS 'Fewest turns a child should get in a lesson.';
COMMENT ON COLUMN public.class.max_activities IS 'Most different activities at once in one cell of a plan.';
COMMENT ON COLUMN public.class.teacher_roams IS 'The planner leaves the teacher free: to walk about, neither running a station nor spotting.';
COMMENT ON COLUMN public.class.focus IS 'Keys of the ladders that this term leans on.';
CREATE TABLE public.class_pair (
    class_id uuid NOT NULL,
    child_a uuid NOT NULL,
    child_b uuid NOT NULL,
    wish text NOT NULL,
    CONSTRAINT class_pair_check CHECK ((child_a < child_b)),
    CONSTRAINT class_pair_wish_check CHECK ((wish = ANY (ARRAY['together'::text, 'apart'::text])))
);
ALTER TABLE ONLY public.class_pair FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.class_pair IS 'Two children whom the plans of a class keep in one group, or in two. For the teachers of the class and the owner alone.';
COMMENT ON COLUMN public.class_pair.child_a IS 'The lesser id of the two, so that a pair is there once.';
CREATE TABLE public.class_staff (
    class_id uuid NOT NULL,
    staff_id uuid NOT NULL,
    duty text NOT NULL,
    from_on date NOT NULL,
    until_on date,
    CONSTRAINT class_staff_check CHECK (((until_on IS NULL) OR (until_on >= from_on))),
    CONSTRAINT class_staff_duty_check CHECK ((duty = ANY (ARRAY['teacher'::text, 'assistant'::text])))
);
ALTER TABLE ONLY public.class_staff FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.class_staff IS 'Who takes or helps at a class, and from when until when; cover is a row of a single day.';
CREATE TABLE public.consent_answer (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    account_id uuid,
    purpose text NOT NULL,
    version integer NOT NULL,
    nth integer NOT NULL,
    given boolean NOT NULL,
    answered_at timestamp with time zone NOT NULL,
    CONSTRAINT consent_answer_nth_check CHECK ((nth >= 1))
);
ALTER TABLE ONLY public.consent_answer FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.consent_answer IS 'The ledger: append-only. The last answer of each guardian to the present words counts; a withdrawal is an answer like any other.';
COMMENT ON COLUMN public.consent_answer.nth IS 'Counts the answers of a guardian about a child and a purpose.';
CREATE TABLE public.consent_text (
    purpose text NOT NULL,
    version integer NOT NULL,
    words text NOT NULL,
    written_by uuid,
    written_at timestamp with time zone NOT NULL,
    CONSTRAINT consent_text_purpose_check CHECK ((purpose = ANY (ARRAY['letters'::text, 'adult-drills'::text, 'photos'::text]))),
    CONSTRAINT consent_text_version_check CHECK ((version >= 1)),
    CONSTRAINT consent_text_words_check CHECK (((length(TRIM(BOTH FROM words)) >= 1) AND (length(TRIM(BOTH FROM words)) <= 2000)))
);
ALTER TABLE ONLY public.consent_text FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.consent_text IS 'What families are asked, word for word. Append-only: other words are a new version, for which everybody is asked again.';
CREATE TABLE public.drill (
    key text NOT NULL,
    name text NOT NULL,
    kind text NOT NULL,
    steps text[] DEFAULT '{}'::text[] NOT NULL,
    turn_seconds integer NOT NULL,
    load_back integer DEFAULT 0 NOT NULL,
    load_wrists integer DEFAULT 0 NOT NULL,
    load_landing integer DEFAULT 0 NOT NULL,
    spot_people integer DEFAULT 0 NOT NULL,
    spot_manner text DEFAULT 'none'::text NOT NULL,
    spot_until text DEFAULT ''::text NOT NULL,
    spot_how text DEFAULT ''::text NOT NULL,
    sets integer DEFAULT 1 NOT NULL,
    repeats integer DEFAULT 1 NOT NULL,
    hold_seconds integer DEFAULT 0 NOT NULL,
    space text DEFAULT ''::text NOT NULL,
    caution text DEFAULT ''::text NOT NULL,
    two_sided boolean DEFAULT false NOT NULL,
    inverted boolean DEFAULT false NOT NULL,
    back_bend boolean DEFAULT false NOT NULL,
    flight boolean DEFAULT false NOT NULL,
    partner boolean DEFAULT false NOT NULL,
    home_safe boolean DEFAULT false NOT NULL,
    home_reason text NOT NULL,
    home_adult boolean DEFAULT false NOT NULL,
    figure text[] DEFAULT '{}'::text[] NOT NULL,
    CONSTRAINT drill_figure_check CHECK ((cardinality(figure) <= 4)),
    CONSTRAINT drill_hold_seconds_check CHECK (((hold_seconds >= 0) AND (hold_seconds <= 300))),
    CONSTRAINT drill_home_reason_check CHECK ((length(TRIM(BOTH FROM home_reason)) > 0)),
    CONSTRAINT drill_home_rule CHECK (((NOT home_safe) OR (NOT (inverted OR back_bend OR flight OR partner OR (spot_people > 0))))),
    CONSTRAINT drill_key_check CHECK ((key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'::text)),
    CONSTRAINT drill_kind_check CHECK ((kind = ANY (ARRAY['warm-up'::text, 'conditioning'::text, 'skill'::text, 'cool-down'::text]))),
    CONSTRAINT drill_load_back_check CHECK (((load_back >= 0) AND (load_back <= 3))),
    CONSTRAINT drill_load_landing_check CHECK (((load_landing >= 0) AND (load_landing <= 3))),
    CONSTRAINT drill_load_wrists_check CHECK (((load_wrists >= 0) AND (load_wrists <= 3))),
    CONSTRAINT drill_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 120))),
    CONSTRAINT drill_repeats_check CHECK (((repeats >= 1) AND (repeats <= 50))),
    CONSTRAINT drill_sets_check CHECK (((sets >= 1) AND (sets <= 10))),
    CONSTRAINT drill_spot_manner_check CHECK ((spot_manner = ANY (ARRAY['none'::text, 'near'::text, 'hands-on'::text]))),
    CONSTRAINT drill_spot_people_check CHECK (((spot_people >= 0) AND (spot_people <= 2))),
    CONSTRAINT drill_spotting_whole CHECK (((spot_people = 0) = (spot_manner = 'none'::text))),
    CONSTRAINT drill_turn_seconds_check CHECK (((turn_seconds >= 5) AND (turn_seconds <= 180)))
);
ALTER TABLE ONLY public.drill FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.drill.home_adult IS 'At home only with an adult in the room.';
COMMENT ON COLUMN public.drill.figure IS 'As of a rung.';
CREATE TABLE public.drill_equipment (
    drill_key text NOT NULL,
    equipment_key text NOT NULL,
    count integer NOT NULL,
    places integer NOT NULL,
    CONSTRAINT drill_equipment_count_check CHECK (((count >= 1) AND (count <= 50))),
    CONSTRAINT drill_equipment_places_check CHECK (((places >= 1) AND (places <= 50)))
);
ALTER TABLE ONLY public.drill_equipment FORCE ROW LEVEL SECURITY;
CREATE TABLE public.drill_rung (
    drill_key text NOT NULL,
    rung_key text NOT NULL
);
ALTER TABLE ONLY public.drill_rung FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.drill_rung IS 'Which rungs a drill prepares.';
CREATE TABLE public.email_change (
    account_id uuid NOT NULL,
    was text NOT NULL,
    email text NOT NULL,
    confirm_hash bytea NOT NULL,
    stop_hash bytea NOT NULL,
    asked_at timestamp with time zone NOT NULL,
    confirmed_at timestamp with time zone,
    CONSTRAINT email_change_confirm_hash_check CHECK ((length(confirm_hash) = 32)),
    CONSTRAINT email_change_email_check CHECK (((email = lower(email)) AND ((length(email) >= 3) AND (length(email) <= 254)))),
    CONSTRAINT email_change_stop_hash_check CHECK ((length(stop_hash) = 32))
);
ALTER TABLE ONLY public.email_change FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.email_change IS 'The last change of address that an account asked for. It counts once a link sent to the new address was opened; a link sent to the old one stops it, for some days also afterwards.';
CREATE TABLE public.enrolment (
    class_id uuid NOT NULL,
    child_id uuid NOT NULL,
    from_on date NOT NULL,
    until_on date,
    CONSTRAINT enrolment_check CHECK (((until_on IS NULL) OR (until_on >= from_on)))
);
ALTER TABLE ONLY public.enrolment FORCE ROW LEVEL SECURITY;
CREATE TABLE public.equipment (
    key text NOT NULL,
    name text NOT NULL,
    stock integer NOT NULL,
    CONSTRAINT equipment_key_check CHECK ((key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'::text)),
    CONSTRAINT equipment_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 80))),
    CONSTRAINT equipment_stock_check CHECK (((stock >= 0) AND (stock <= 500)))
);
ALTER TABLE ONLY public.equipment FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.equipment.stock IS 'Pieces that the hall has; a plan never needs more at once.';
CREATE TABLE public.erasure_request (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    asked_by uuid,
    words text DEFAULT ''::text NOT NULL,
    asked_at timestamp with time zone NOT NULL,
    decided_by uuid,
    decided_at timestamp with time zone,
    erased boolean,
    answer text DEFAULT ''::text NOT NULL,
    CONSTRAINT erasure_request_answer_check CHECK ((length(answer) <= 1000)),
    CONSTRAINT erasure_request_check CHECK (((decided_at IS NULL) = (erased IS NULL))),
    CONSTRAINT erasure_request_words_check CHECK ((length(words) <= 1000))
);
ALTER TABLE ONLY public.erasure_request FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.erasure_request IS 'A guardian asks that what is kept about a child be erased; the owner does it, or says why not.';
CREATE TABLE public.fault (
    rung_key text NOT NULL,
    key text NOT NULL,
    "position" integer NOT NULL,
    name text NOT NULL,
    safety boolean DEFAULT false NOT NULL,
    retired boolean DEFAULT false NOT NULL,
    CONSTRAINT fault_key_check CHECK ((key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'::text)),
    CONSTRAINT fault_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 160)))
);
ALTER TABLE ONLY public.fault FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.fault.safety IS 'While it is seen, the rung is not secure, whatever the count says.';
COMMENT ON COLUMN public.fault.retired IS 'No longer offered; kept because marks name it.';
CREATE TABLE public.forecast_kept (
    class_id uuid NOT NULL,
    child_id uuid NOT NULL,
    made_for text NOT NULL,
    made_on date NOT NULL,
    due_on date NOT NULL,
    rule_clean smallint NOT NULL,
    rule_window smallint NOT NULL,
    rule_lessons smallint NOT NULL,
    rungs text[] NOT NULL,
    chances double precision[] NOT NULL,
    CONSTRAINT forecast_kept_check CHECK ((due_on > made_on)),
    CONSTRAINT forecast_kept_check1 CHECK (((cardinality(chances) = cardinality(rungs)) AND ((0)::double precision <= ALL (chances)) AND ((1)::double precision >= ALL (chances)))),
    CONSTRAINT forecast_kept_made_for_check CHECK ((made_for = ANY (ARRAY['child'::text, 'term'::text]))),
    CONSTRAINT forecast_kept_rungs_check CHECK ((cardinality(rungs) > 0))
);
ALTER TABLE ONLY public.forecast_kept FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.forecast_kept IS 'What was forecast about a child, once a week in term. Rows are added by the program and never changed: what became of them is read from the marks when it is asked. For teachers of the class and the owner, never families or assistants.';
COMMENT ON COLUMN public.forecast_kept.made_for IS 'child: as on the page of the child, over all its classes. term: as it goes into the outlook of the class, through the weeks as they were laid out.';
COMMENT ON COLUMN public.forecast_kept.due_on IS 'The showcase or the end of the term; or four weeks ahead, so that something comes due early.';
COMMENT ON COLUMN public.forecast_kept.rule_clean IS 'The studio''s rule of secure that the forecast was made by, with rule_window and rule_lessons: it is judged by the same.';
COMMENT ON COLUMN public.forecast_kept.rungs IS 'The keys of the rungs, with the chance of each in chances. Arrays, since a row for each would take ten times the room; a rung that has left the library since is passed over.';
CREATE TABLE public.guardian (
    account_id uuid NOT NULL,
    child_id uuid NOT NULL,
    relation text DEFAULT 'parent'::text NOT NULL,
    since timestamp with time zone DEFAULT now() NOT NULL,
    removed_at timestamp with time zone,
    rights text[] DEFAULT '{hurt,reports}'::text[] NOT NULL,
    called text DEFAULT ''::text NOT NULL,
    invited_by uuid,
    CONSTRAINT guardian_called_check CHECK ((length(called) <= 120)),
    CONSTRAINT guardian_relation_check CHECK ((length(relation) <= 40)),
    CONSTRAINT guardian_rights_check CHECK ((rights <@ ARRAY['hurt'::text, 'reports'::text, 'invite'::text]))
);
ALTER TABLE ONLY public.guardian FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.guardian.removed_at IS 'A removed guardian sees nothing from the next request on; the row stays for the trail.';
COMMENT ON COLUMN public.guardian.rights IS 'What this guardian may beside seeing the child: hurt reports that something hurts, reports reads released term reports, invite lets further guardians in.';
COMMENT ON COLUMN public.guardian.called IS 'The name as a guardian who may invite reads it: guardians do not see accounts.';
COMMENT ON COLUMN public.guardian.invited_by IS 'Who invited this guardian: a guardian may take away again only whom he or she let in.';
CREATE TABLE public.health_read (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    at timestamp with time zone NOT NULL,
    by_account uuid,
    by_name text NOT NULL,
    kind text NOT NULL,
    CONSTRAINT health_read_kind_check CHECK ((kind = ANY (ARRAY['the reason of a care limit'::text, 'an incident record'::text, 'the list of incident records'::text])))
);
ALTER TABLE ONLY public.health_read FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.health_read IS 'Who read health data of a child, written in the same transaction as the reading; the family sees it.';
COMMENT ON COLUMN public.health_read.by_name IS 'The reader''s name at the time: families read neither staff nor accounts.';
CREATE TABLE public.holiday (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    term_id uuid NOT NULL,
    name text NOT NULL,
    starts_on date NOT NULL,
    ends_on date NOT NULL,
    CONSTRAINT holiday_check CHECK ((ends_on >= starts_on)),
    CONSTRAINT holiday_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 80)))
);
ALTER TABLE ONLY public.holiday FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.holiday IS 'Days without lessons within a term.';
CREATE TABLE public.home_assignment (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    drill_key text NOT NULL,
    home_safe boolean DEFAULT true NOT NULL,
    sets integer NOT NULL,
    repeats integer NOT NULL,
    hold_seconds integer NOT NULL,
    from_on date NOT NULL,
    until_on date NOT NULL,
    why text DEFAULT ''::text NOT NULL,
    assigned_by uuid,
    assigned_at timestamp with time zone NOT NULL,
    withdrawn_at timestamp with time zone,
    exception_id uuid,
    CONSTRAINT home_assignment_check CHECK ((until_on >= from_on)),
    CONSTRAINT home_assignment_hold_seconds_check CHECK (((hold_seconds >= 0) AND (hold_seconds <= 300))),
    CONSTRAINT home_assignment_home_safe_check CHECK ((home_safe OR (exception_id IS NOT NULL) OR (withdrawn_at IS NOT NULL))),
    CONSTRAINT home_assignment_repeats_check CHECK (((repeats >= 1) AND (repeats <= 50))),
    CONSTRAINT home_assignment_sets_check CHECK (((sets >= 1) AND (sets <= 10)))
);
ALTER TABLE ONLY public.home_assignment FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.home_assignment.home_safe IS 'As the drill says, by the foreign key on (key, home_safe): the database itself refuses an unsafe drill without an exception, and refuses to make a drill unsafe while it is out without one.';
COMMENT ON COLUMN public.home_assignment.exception_id IS 'The exception by which the drill is out though it is not safe alone: of the same child and drill, by the foreign key.';
CREATE TABLE public.home_exception (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    drill_key text NOT NULL,
    spotters integer DEFAULT 0 NOT NULL,
    reason text NOT NULL,
    signed text NOT NULL,
    ticked_by uuid,
    ticked_at timestamp with time zone NOT NULL,
    ticked_on date NOT NULL,
    until_on date NOT NULL,
    ended_by uuid,
    ended_how text,
    ended_at timestamp with time zone,
    CONSTRAINT home_exception_ended CHECK (((ended_at IS NULL) = (ended_how IS NULL))),
    CONSTRAINT home_exception_ended_how_check CHECK ((ended_how = ANY (ARRAY['taken back'::text, 'no consent'::text, 'over'::text]))),
    CONSTRAINT home_exception_no_spotter CHECK (((spotters = 0) OR (ended_at IS NOT NULL))),
    CONSTRAINT home_exception_reason_check CHECK (((length(TRIM(BOTH FROM reason)) >= 1) AND (length(TRIM(BOTH FROM reason)) <= 400))),
    CONSTRAINT home_exception_signed_check CHECK (((length(TRIM(BOTH FROM signed)) >= 1) AND (length(TRIM(BOTH FROM signed)) <= 120))),
    CONSTRAINT home_exception_span CHECK (((until_on >= ticked_on) AND (until_on <= (ticked_on + 84))))
);
ALTER TABLE ONLY public.home_exception FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.home_exception IS 'A drill that the library keeps for class and one child may do at home, with an adult in the room, because a teacher ticked it. Append-only but for its end.';
COMMENT ON COLUMN public.home_exception.spotters IS 'Always 0 while it is live: with the foreign key on (key, spot_people) the database itself refuses a drill that needs a spotter, and refuses to let a drill need one while an exception for it is live. A parent is not signed off.';
COMMENT ON COLUMN public.home_exception.signed IS 'The name of who ticked it, as families read it: they see neither staff nor accounts.';
COMMENT ON COLUMN public.home_exception.ticked_on IS 'The studio''s day. It holds from then until until_on, twelve weeks at most.';
CREATE TABLE public.incident (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    lesson_id uuid NOT NULL,
    child_id uuid,
    happened_at timestamp with time zone NOT NULL,
    what text NOT NULL,
    done text NOT NULL,
    told text NOT NULL,
    seen_by text DEFAULT ''::text NOT NULL,
    written_by uuid,
    written_at timestamp with time zone NOT NULL,
    keep_until date NOT NULL,
    CONSTRAINT incident_done_check CHECK (((length(TRIM(BOTH FROM done)) >= 1) AND (length(TRIM(BOTH FROM done)) <= 4000))),
    CONSTRAINT incident_told_check CHECK (((length(TRIM(BOTH FROM told)) >= 1) AND (length(TRIM(BOTH FROM told)) <= 2000))),
    CONSTRAINT incident_what_check CHECK (((length(TRIM(BOTH FROM what)) >= 1) AND (length(TRIM(BOTH FROM what)) <= 4000)))
);
ALTER TABLE ONLY public.incident FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.incident IS 'Append-only: what happened, what was done, who was told. For the owner and the teachers of the class.';
COMMENT ON COLUMN public.incident.keep_until IS 'The later of three years after it happened and the child''s 21st birthday.';
CREATE TABLE public.incident_addition (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    incident_id uuid NOT NULL,
    words text NOT NULL,
    written_by uuid,
    written_at timestamp with time zone NOT NULL,
    CONSTRAINT incident_addition_words_check CHECK (((length(TRIM(BOTH FROM words)) >= 1) AND (length(TRIM(BOTH FROM words)) <= 4000)))
);
ALTER TABLE ONLY public.incident_addition FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.incident_addition IS 'What was learned later. The record itself never changes.';
CREATE TABLE public.incident_person (
    incident_id uuid NOT NULL,
    name text NOT NULL,
    birth_date date NOT NULL
);
ALTER TABLE ONLY public.incident_person FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.incident_person IS 'Whom an incident record is about, kept with it where the child was erased: the record must serve until it may go.';
CREATE TABLE public.invitation (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    token_hash bytea NOT NULL,
    kind text NOT NULL,
    email text NOT NULL,
    name text NOT NULL,
    roles text[] DEFAULT '{}'::text[] NOT NULL,
    staff_id uuid,
    child_ids uuid[] DEFAULT '{}'::uuid[] NOT NULL,
    created_by uuid,
    created_at timestamp with time zone NOT NULL,
    expires_at timestamp with time zone NOT NULL,
    used_at timestamp with time zone,
    rights text[],
    CONSTRAINT invitation_kind_check CHECK ((kind = ANY (ARRAY['join'::text, 'reset'::text]))),
    CONSTRAINT invitation_rights_check CHECK ((rights <@ ARRAY['hurt'::text, 'reports'::text, 'invite'::text])),
    CONSTRAINT invitation_token_hash_check CHECK ((length(token_hash) = 32))
);
ALTER TABLE ONLY public.invitation FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.invitation IS 'A link to join or to choose a new passphrase: random, once, short-lived; only its hash is kept.';
COMMENT ON COLUMN public.invitation.rights IS 'Of the guardian to be; null for what a guardian has who is invited by the studio.';
CREATE TABLE public.ladder (
    key text NOT NULL,
    name text NOT NULL,
    family text NOT NULL,
    about text DEFAULT ''::text NOT NULL,
    "position" integer NOT NULL,
    CONSTRAINT ladder_family_check CHECK ((family = ANY (ARRAY['upside down'::text, 'wheels'::text, 'arches'::text, 'rolls'::text, 'shapes'::text, 'flight'::text]))),
    CONSTRAINT ladder_key_check CHECK ((key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'::text)),
    CONSTRAINT ladder_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 80)))
);
ALTER TABLE ONLY public.ladder FORCE ROW LEVEL SECURITY;
CREATE TABLE public.lesson (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    class_id uuid NOT NULL,
    starts_at timestamp with time zone NOT NULL,
    minutes integer NOT NULL,
    cancelled_at timestamp with time zone,
    revision integer DEFAULT 0 NOT NULL,
    changed_at timestamp with time zone DEFAULT now() NOT NULL,
    CONSTRAINT lesson_minutes_check CHECK (((minutes >= 20) AND (minutes <= 180)))
);
ALTER TABLE ONLY public.lesson FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.lesson.revision IS 'Counts changes that a calendar must hear of: it is the SEQUENCE of the event in iCalendar.';
CREATE TABLE public.lesson_block (
    lesson_id uuid NOT NULL,
    "position" integer NOT NULL,
    kind text NOT NULL,
    minutes integer NOT NULL,
    drills text[] DEFAULT '{}'::text[] NOT NULL,
    CONSTRAINT lesson_block_kind_check CHECK ((kind = ANY (ARRAY['arrive'::text, 'warm-up'::text, 'conditioning'::text, 'stations'::text, 'cool-down'::text]))),
    CONSTRAINT lesson_block_minutes_check CHECK (((minutes >= 0) AND (minutes <= 120)))
);
ALTER TABLE ONLY public.lesson_block FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.lesson_block.drills IS 'Keys of the drills that fill the block; empty for stations.';
CREATE TABLE public.lesson_clock (
    lesson_id uuid NOT NULL,
    version integer NOT NULL,
    rotation integer NOT NULL,
    started_at timestamp with time zone,
    elapsed_ms bigint NOT NULL,
    changed_by uuid,
    changed_at timestamp with time zone NOT NULL,
    CONSTRAINT lesson_clock_elapsed_ms_check CHECK (((elapsed_ms >= 0) AND (elapsed_ms <= 86400000))),
    CONSTRAINT lesson_clock_rotation_check CHECK (((rotation >= 1) AND (rotation <= 6)))
);
ALTER TABLE ONLY public.lesson_clock FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.lesson_clock IS 'The rotation clock that all devices of a lesson share. started_at is null while it stands; elapsed_ms is what had run before.';
CREATE TABLE public.lesson_effort (
    lesson_id uuid NOT NULL,
    effort integer NOT NULL,
    noted_by uuid,
    noted_at timestamp with time zone NOT NULL,
    CONSTRAINT lesson_effort_effort_check CHECK (((effort >= 0) AND (effort <= 10)))
);
ALTER TABLE ONLY public.lesson_effort FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.lesson_effort IS 'One figure for the class, as its teacher saw it; holds for every child without a row of its own.';
CREATE TABLE public.lesson_note (
    lesson_id uuid NOT NULL,
    note text NOT NULL
);
ALTER TABLE ONLY public.lesson_note FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.lesson_note IS 'The teacher''s note. Apart from lesson, which assistants and parents may read.';
CREATE TABLE public.mark (
    id uuid NOT NULL,
    child_id uuid NOT NULL,
    rung_key text NOT NULL,
    lesson_id uuid,
    side text DEFAULT 'none'::text NOT NULL,
    outcome text NOT NULL,
    marked_by uuid,
    marked_at timestamp with time zone NOT NULL,
    received_at timestamp with time zone DEFAULT now() NOT NULL,
    replaces uuid,
    awaits boolean DEFAULT false NOT NULL,
    CONSTRAINT mark_outcome_check CHECK ((outcome = ANY (ARRAY['missed'::text, 'supported'::text, 'clean'::text, 'withdrawn'::text]))),
    CONSTRAINT mark_side_check CHECK ((side = ANY (ARRAY['none'::text, 'left'::text, 'right'::text]))),
    CONSTRAINT mark_withdrawal_names_mark CHECK (((outcome <> 'withdrawn'::text) OR (replaces IS NOT NULL)))
);
ALTER TABLE ONLY public.mark FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.mark IS 'Append-only. A correction is a new row that names the one it replaces.';
COMMENT ON COLUMN public.mark.outcome IS 'Withdrawn takes back the mark that it replaces: neither counts.';
COMMENT ON COLUMN public.mark.marked_at IS 'When the turn was seen, as the device says; advisory. received_at orders.';
COMMENT ON COLUMN public.mark.replaces IS 'The mark that this one stands for, of the same child; one that names another child''s has no effect. No foreign key: a device may send the later mark first.';
COMMENT ON COLUMN public.mark.awaits IS 'Made by an assistant while the studio wants a teacher''s word: counts once mark_confirmation names it.';
CREATE TABLE public.mark_confirmation (
    mark_id uuid NOT NULL,
    confirmed_by uuid,
    confirmed_at timestamp with time zone NOT NULL
);
ALTER TABLE ONLY public.mark_confirmation FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.mark_confirmation IS 'A teacher''s word that a mark which awaits it counts. A mark that is set aside is withdrawn instead.';
CREATE TABLE public.mark_fault (
    mark_id uuid NOT NULL,
    rung_key text NOT NULL,
    fault_key text NOT NULL
);
ALTER TABLE ONLY public.mark_fault FORCE ROW LEVEL SECURITY;
CREATE TABLE public.message (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid,
    class_id uuid,
    note text NOT NULL,
    signed text NOT NULL,
    written_by uuid,
    written_on date NOT NULL,
    written_at timestamp with time zone NOT NULL,
    taken_back_at timestamp with time zone,
    CONSTRAINT message_check CHECK ((num_nonnulls(child_id, class_id) = 1)),
    CONSTRAINT message_note_check CHECK (((length(TRIM(BOTH FROM note)) >= 1) AND (length(TRIM(BOTH FROM note)) <= 2000))),
    CONSTRAINT message_signed_check CHECK ((length(signed) <= 120))
);
ALTER TABLE ONLY public.message FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.message IS 'A one-way note from a teacher to the family of a child, or to those of a class. Its words never change; it may be taken back.';
COMMENT ON COLUMN public.message.signed IS 'The writer''s name as families read it: they see neither staff nor accounts.';
COMMENT ON COLUMN public.message.written_on IS 'The studio''s day. A message to a class is for the families of the children who were in it on that day.';
CREATE TABLE public.message_read (
    message_id uuid NOT NULL,
    account_id uuid NOT NULL,
    read_at timestamp with time zone NOT NULL
);
ALTER TABLE ONLY public.message_read FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.message_read IS 'When a guardian first opened a message. Teachers see how many did.';
CREATE TABLE public.pacing (
    class_id uuid NOT NULL,
    version integer DEFAULT 1 NOT NULL,
    most_new integer NOT NULL,
    lag integer NOT NULL,
    saved_by uuid,
    saved_at timestamp with time zone NOT NULL,
    CONSTRAINT pacing_lag_check CHECK (((lag >= 1) AND (lag <= 6))),
    CONSTRAINT pacing_most_new_check CHECK (((most_new >= 1) AND (most_new <= 6)))
);
ALTER TABLE ONLY public.pacing FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.pacing IS 'The rungs of a class laid over the weeks of its term. For teachers of the class and the owner.';
COMMENT ON COLUMN public.pacing.version IS 'Counts saves: a save that started from an older version is refused, never merged silently.';
COMMENT ON COLUMN public.pacing.most_new IS 'Most rungs that are new in one week.';
COMMENT ON COLUMN public.pacing.lag IS 'Weeks, at least, between a rung and one that needs it.';
CREATE TABLE public.pacing_before (
    class_id uuid NOT NULL,
    parts jsonb NOT NULL
);
ALTER TABLE ONLY public.pacing_before FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.pacing_before IS 'The term as it was before its last change, to go back to.';
CREATE TABLE public.pacing_rung (
    class_id uuid NOT NULL,
    rung_key text NOT NULL,
    week_of date,
    earliest date,
    latest date,
    pinned boolean DEFAULT false NOT NULL,
    focus boolean DEFAULT false NOT NULL,
    seen_again date[] DEFAULT '{}'::date[] NOT NULL,
    CONSTRAINT pacing_rung_check CHECK (((NOT pinned) OR (week_of IS NOT NULL))),
    CONSTRAINT pacing_rung_earliest_check CHECK ((EXTRACT(isodow FROM earliest) = (1)::numeric)),
    CONSTRAINT pacing_rung_latest_check CHECK ((EXTRACT(isodow FROM latest) = (1)::numeric)),
    CONSTRAINT pacing_rung_week_of_check CHECK ((EXTRACT(isodow FROM week_of) = (1)::numeric))
);
ALTER TABLE ONLY public.pacing_rung FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.pacing_rung.week_of IS 'The Monday of the week in which the rung is new; null while it has none. A date, so that a change of the term moves nothing.';
COMMENT ON COLUMN public.pacing_rung.focus IS 'Sooner is better, and by the showcase.';
COMMENT ON COLUMN public.pacing_rung.seen_again IS 'The Mondays of the weeks in which it is seen again, as of the last save: the lesson planner reads them.';
CREATE TABLE public.passkey (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    account_id uuid NOT NULL,
    credential_id bytea NOT NULL,
    name text NOT NULL,
    credential jsonb NOT NULL,
    made_at timestamp with time zone NOT NULL,
    used_at timestamp with time zone,
    CONSTRAINT passkey_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 60)))
);
ALTER TABLE ONLY public.passkey FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.passkey IS 'Public keys of WebAuthn credentials. They open nothing by themselves: the private key never leaves its device.';
COMMENT ON COLUMN public.passkey.credential IS 'The credential record of the WebAuthn standard, with its counter.';
CREATE TABLE public.piece (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    class_id uuid NOT NULL,
    version integer DEFAULT 1 NOT NULL,
    name text NOT NULL,
    on_day date,
    note text DEFAULT ''::text NOT NULL,
    saved_by uuid,
    saved_at timestamp with time zone NOT NULL,
    CONSTRAINT piece_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 80))),
    CONSTRAINT piece_note_check CHECK ((length(note) <= 500))
);
ALTER TABLE ONLY public.piece FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.piece IS 'A piece that a class shows. For teachers of the class and the owner: it says who is not ready.';
COMMENT ON COLUMN public.piece.version IS 'Counts saves: one that started from an older version is refused, never merged silently.';
COMMENT ON COLUMN public.piece.on_day IS 'The day on which it is shown; null is the showcase of the term, so that a moved showcase moves the piece.';
CREATE TABLE public.piece_part (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    piece_id uuid NOT NULL,
    name text NOT NULL,
    everybody boolean NOT NULL,
    CONSTRAINT piece_part_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 60)))
);
ALTER TABLE ONLY public.piece_part FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.piece_part IS 'A group of children of a piece with the rungs that each of them does.';
COMMENT ON COLUMN public.piece_part.everybody IS 'All who are in the class. A part of its own children never becomes everybody''s when the last of them leaves.';
CREATE TABLE public.piece_part_child (
    part_id uuid NOT NULL,
    child_id uuid NOT NULL
);
ALTER TABLE ONLY public.piece_part_child FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.piece_part_child IS 'A child of a part that is not everybody''s.';
CREATE TABLE public.piece_part_rung (
    part_id uuid NOT NULL,
    rung_key text NOT NULL
);
ALTER TABLE ONLY public.piece_part_rung FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.piece_part_rung IS 'A rung that every child of a part does.';
CREATE TABLE public.piece_swap (
    piece_id uuid NOT NULL,
    child_id uuid NOT NULL,
    rung_key text NOT NULL,
    instead_key text,
    accepted_by uuid,
    accepted_at timestamp with time zone NOT NULL,
    CONSTRAINT piece_swap_check CHECK ((instead_key <> rung_key))
);
ALTER TABLE ONLY public.piece_swap FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.piece_swap IS 'What a child does in a piece in place of a rung, as a teacher accepted it. It is judged again whenever it is read: a later care limit shows.';
COMMENT ON COLUMN public.piece_swap.instead_key IS 'Null: the child stands in the picture.';
CREATE TABLE public.plan (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    lesson_id uuid NOT NULL,
    version integer DEFAULT 1 NOT NULL,
    shared_at timestamp with time zone,
    rotations integer NOT NULL,
    work_seconds integer NOT NULL,
    worth double precision NOT NULL,
    bound double precision NOT NULL,
    optimal boolean NOT NULL,
    saved_by uuid,
    saved_at timestamp with time zone NOT NULL,
    CONSTRAINT plan_rotations_check CHECK (((rotations >= 1) AND (rotations <= 6))),
    CONSTRAINT plan_work_seconds_check CHECK (((work_seconds >= 60) AND (work_seconds <= 3600)))
);
ALTER TABLE ONLY public.plan FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.plan.version IS 'Counts saves: a save that started from an older version is refused, never merged silently.';
COMMENT ON COLUMN public.plan.shared_at IS 'When the teacher saved it for the assistants; null while it is a draft.';
COMMENT ON COLUMN public.plan.bound IS 'No plan for the same evening can be worth more than this (proven).';
CREATE TABLE public.plan_before (
    plan_id uuid NOT NULL,
    parts jsonb NOT NULL
);
ALTER TABLE ONLY public.plan_before FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.plan_before IS 'A plan as it was before its last change, to go back to. Apart from plan, which assistants may read once it is shared.';
CREATE TABLE public.plan_cell (
    plan_id uuid NOT NULL,
    rotation integer NOT NULL,
    group_no integer NOT NULL,
    ladder_key text NOT NULL,
    pinned boolean DEFAULT false NOT NULL,
    CONSTRAINT plan_cell_group_no_check CHECK (((group_no >= 1) AND (group_no <= 8))),
    CONSTRAINT plan_cell_rotation_check CHECK (((rotation >= 1) AND (rotation <= 6)))
);
ALTER TABLE ONLY public.plan_cell FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.plan_cell IS 'Where a group is in a rotation. That two groups never share a station is the checker''s rule: a hand edit may pass through it.';
CREATE TABLE public.plan_entry (
    plan_id uuid NOT NULL,
    rotation integer NOT NULL,
    child_id uuid NOT NULL,
    rung_key text,
    drill_key text,
    turns integer NOT NULL,
    wait_share double precision NOT NULL,
    why text DEFAULT ''::text NOT NULL,
    pinned boolean DEFAULT false NOT NULL,
    CONSTRAINT plan_entry_check CHECK ((num_nonnulls(rung_key, drill_key) = 1)),
    CONSTRAINT plan_entry_turns_check CHECK ((turns >= 0)),
    CONSTRAINT plan_entry_wait_share_check CHECK (((wait_share >= (0)::double precision) AND (wait_share <= (1)::double precision)))
);
ALTER TABLE ONLY public.plan_entry FORCE ROW LEVEL SECURITY;
CREATE TABLE public.plan_member (
    plan_id uuid NOT NULL,
    child_id uuid NOT NULL,
    group_no integer NOT NULL,
    pinned boolean DEFAULT false NOT NULL,
    CONSTRAINT plan_member_group_no_check CHECK (((group_no >= 1) AND (group_no <= 8)))
);
ALTER TABLE ONLY public.plan_member FORCE ROW LEVEL SECURITY;
CREATE TABLE public.plan_staff (
    plan_id uuid NOT NULL,
    rotation integer NOT NULL,
    group_no integer NOT NULL,
    staff_id uuid NOT NULL,
    duty text NOT NULL,
    CONSTRAINT plan_staff_duty_check CHECK ((duty = ANY (ARRAY['lead'::text, 'spot'::text])))
);
ALTER TABLE ONLY public.plan_staff FORCE ROW LEVEL SECURITY;
CREATE TABLE public.practice (
    assignment_id uuid NOT NULL,
    done_on date NOT NULL,
    child_id uuid NOT NULL,
    noted_by uuid,
    noted_at timestamp with time zone NOT NULL
);
ALTER TABLE ONLY public.practice FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.practice IS 'That a drill was done at home on a day, as the family says. The family may take it away again.';
CREATE TABLE public.recovery_code (
    account_id uuid NOT NULL,
    place integer NOT NULL,
    code_hash bytea NOT NULL,
    used_at timestamp with time zone,
    CONSTRAINT recovery_code_code_hash_check CHECK ((length(code_hash) = 32)),
    CONSTRAINT recovery_code_place_check CHECK (((place >= 1) AND (place <= 20)))
);
ALTER TABLE ONLY public.recovery_code FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.recovery_code IS 'For when the authenticator is lost: each works once. 80 random bits need no slow hash.';
CREATE TABLE public.report_bundle (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    term_id uuid NOT NULL,
    asked_by uuid NOT NULL,
    asked_at timestamp with time zone NOT NULL,
    expires_at timestamp with time zone NOT NULL,
    state text DEFAULT 'waiting'::text NOT NULL,
    finished_at timestamp with time zone,
    CONSTRAINT report_bundle_check CHECK ((expires_at > asked_at)),
    CONSTRAINT report_bundle_state_check CHECK ((state = ANY (ARRAY['waiting'::text, 'working'::text, 'ready'::text, 'stopped'::text, 'failed'::text])))
);
ALTER TABLE ONLY public.report_bundle FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.report_bundle IS 'The term reports of every class of a term, asked for by an owner and made in the background. Only who asked for it may read it, and only until it expires.';
CREATE TABLE public.report_bundle_file (
    bundle_id uuid NOT NULL,
    name text NOT NULL,
    body bytea NOT NULL
);
ALTER TABLE ONLY public.report_bundle_file ALTER COLUMN body SET STORAGE EXTERNAL;
ALTER TABLE ONLY public.report_bundle_file FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.report_bundle_file IS 'The files of a bundle, by their path in it. They go when it expires or is stopped.';
CREATE TABLE public.report_bundle_part (
    bundle_id uuid NOT NULL,
    class_id uuid NOT NULL,
    place integer NOT NULL,
    children integer NOT NULL,
    made_at timestamp with time zone
);
ALTER TABLE ONLY public.report_bundle_part FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.report_bundle_part IS 'A class of a bundle. Its files and made_at are written together, so that work which was cut off goes on with the next class and doubles nothing.';
COMMENT ON COLUMN public.report_bundle_part.children IS 'How many children there are to write for: the measure of progress.';
CREATE TABLE public.report_note (
    class_id uuid NOT NULL,
    child_id uuid NOT NULL,
    note text NOT NULL,
    written_by uuid,
    written_at timestamp with time zone NOT NULL,
    CONSTRAINT report_note_note_check CHECK (((length(TRIM(BOTH FROM note)) >= 1) AND (length(TRIM(BOTH FROM note)) <= 2000)))
);
ALTER TABLE ONLY public.report_note FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.report_note IS 'What the teacher writes to the parents in the term report of a child. Families read it only in a report that was released.';
CREATE TABLE public.report_release (
    class_id uuid NOT NULL,
    child_id uuid NOT NULL,
    released_by uuid,
    released_at timestamp with time zone NOT NULL,
    as_of date NOT NULL,
    body bytea NOT NULL
);
ALTER TABLE ONLY public.report_release FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.report_release IS 'The term report of a child as its family may read it. The file itself is kept, so that it stays what the teacher looked at.';
COMMENT ON COLUMN public.report_release.as_of IS 'The day up to which marks count in it.';
CREATE TABLE public.retention_run (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    ran_on date NOT NULL,
    ran_at timestamp with time zone NOT NULL,
    gone jsonb NOT NULL
);
ALTER TABLE ONLY public.retention_run FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.retention_run IS 'A row a day: of several running copies the one that writes it clears out. gone counts rows by kind.';
CREATE TABLE public.rung (
    key text NOT NULL,
    ladder_key text NOT NULL,
    "position" integer NOT NULL,
    name text NOT NULL,
    start_position text DEFAULT ''::text NOT NULL,
    finish_position text DEFAULT ''::text NOT NULL,
    look text[] DEFAULT '{}'::text[] NOT NULL,
    spot_people integer DEFAULT 0 NOT NULL,
    spot_manner text DEFAULT 'none'::text NOT NULL,
    spot_until text DEFAULT ''::text NOT NULL,
    spot_how text DEFAULT ''::text NOT NULL,
    turn_seconds integer NOT NULL,
    load_back integer DEFAULT 0 NOT NULL,
    load_wrists integer DEFAULT 0 NOT NULL,
    load_landing integer DEFAULT 0 NOT NULL,
    two_sided boolean DEFAULT false NOT NULL,
    inverted boolean DEFAULT false NOT NULL,
    back_bend boolean DEFAULT false NOT NULL,
    flight boolean DEFAULT false NOT NULL,
    home_safe boolean DEFAULT false NOT NULL,
    home_reason text NOT NULL,
    caution text DEFAULT ''::text NOT NULL,
    figure text[] DEFAULT '{}'::text[] NOT NULL,
    CONSTRAINT rung_figure_check CHECK ((cardinality(figure) <= 4)),
    CONSTRAINT rung_home_reason_check CHECK ((length(TRIM(BOTH FROM home_reason)) > 0)),
    CONSTRAINT rung_home_rule CHECK (((NOT home_safe) OR (NOT (inverted OR back_bend OR flight OR (spot_people > 0))))),
    CONSTRAINT rung_key_check CHECK ((key ~ '^[a-z0-9]+(-[a-z0-9]+)*$'::text)),
    CONSTRAINT rung_load_back_check CHECK (((load_back >= 0) AND (load_back <= 3))),
    CONSTRAINT rung_load_landing_check CHECK (((load_landing >= 0) AND (load_landing <= 3))),
    CONSTRAINT rung_load_wrists_check CHECK (((load_wrists >= 0) AND (load_wrists <= 3))),
    CONSTRAINT rung_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 120))),
    CONSTRAINT rung_spot_manner_check CHECK ((spot_manner = ANY (ARRAY['none'::text, 'near'::text, 'hands-on'::text]))),
    CONSTRAINT rung_spot_people_check CHECK (((spot_people >= 0) AND (spot_people <= 2))),
    CONSTRAINT rung_spotting_whole CHECK (((spot_people = 0) = (spot_manner = 'none'::text))),
    CONSTRAINT rung_turn_seconds_check CHECK (((turn_seconds >= 5) AND (turn_seconds <= 180)))
);
ALTER TABLE ONLY public.rung FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.rung.load_back IS 'Back extension per turn, 0-3: the studio''s setting, not medicine. Likewise wrists and landing.';
COMMENT ON COLUMN public.rung.figure IS 'Names of the poses that show it, in order. The program draws them from joint angles; a name that it does not know is not drawn.';
COMMENT ON CONSTRAINT rung_home_rule ON public.rung IS 'Nothing upside down, bent back over the head, in flight or spotted goes home.';
CREATE TABLE public.rung_equipment (
    rung_key text NOT NULL,
    equipment_key text NOT NULL,
    count integer NOT NULL,
    places integer NOT NULL,
    CONSTRAINT rung_equipment_count_check CHECK (((count >= 1) AND (count <= 50))),
    CONSTRAINT rung_equipment_places_check CHECK (((places >= 1) AND (places <= 50)))
);
ALTER TABLE ONLY public.rung_equipment FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.rung_equipment.places IS 'Children that can work at once on count pieces.';
CREATE TABLE public.rung_fit (
    rung_key text NOT NULL,
    known double precision NOT NULL,
    learn double precision NOT NULL,
    not_missed double precision NOT NULL,
    not_supported double precision NOT NULL,
    not_clean double precision NOT NULL,
    yes_missed double precision NOT NULL,
    yes_supported double precision NOT NULL,
    yes_clean double precision NOT NULL,
    used boolean NOT NULL,
    children integer NOT NULL,
    marks integer NOT NULL,
    likely_before double precision NOT NULL,
    likely_after double precision NOT NULL,
    held_before double precision NOT NULL,
    held_after double precision NOT NULL,
    fitted_at timestamp with time zone NOT NULL,
    CONSTRAINT rung_fit_children_check CHECK ((children >= 0)),
    CONSTRAINT rung_fit_known_check CHECK (((known >= (0)::double precision) AND (known <= (1)::double precision))),
    CONSTRAINT rung_fit_learn_check CHECK (((learn >= (0)::double precision) AND (learn <= (1)::double precision))),
    CONSTRAINT rung_fit_marks_check CHECK ((marks >= 0)),
    CONSTRAINT rung_fit_not_clean_check CHECK (((not_clean >= (0)::double precision) AND (not_clean <= (1)::double precision))),
    CONSTRAINT rung_fit_not_missed_check CHECK (((not_missed >= (0)::double precision) AND (not_missed <= (1)::double precision))),
    CONSTRAINT rung_fit_not_supported_check CHECK (((not_supported >= (0)::double precision) AND (not_supported <= (1)::double precision))),
    CONSTRAINT rung_fit_yes_clean_check CHECK (((yes_clean >= (0)::double precision) AND (yes_clean <= (1)::double precision))),
    CONSTRAINT rung_fit_yes_missed_check CHECK (((yes_missed >= (0)::double precision) AND (yes_missed <= (1)::double precision))),
    CONSTRAINT rung_fit_yes_supported_check CHECK (((yes_supported >= (0)::double precision) AND (yes_supported <= (1)::double precision)))
);
ALTER TABLE ONLY public.rung_fit FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.rung_fit IS 'Parameters of Bayesian knowledge tracing by rung, with the number of children and marks behind them. Says nothing about any one child.';
COMMENT ON COLUMN public.rung_fit.not_missed IS 'How a turn looks while the rung is not known: missed, supported, clean (the guess). Likewise yes_..., while it is known.';
COMMENT ON COLUMN public.rung_fit.used IS 'False where the marks are too few, or the fit foretold children left out of it no better than the defaults did: then these are the defaults.';
COMMENT ON COLUMN public.rung_fit.likely_before IS 'Mean chance (geometric) that the defaults gave to each mark; likely_after that of the fit; held_... the same of children left out of the fit.';
CREATE TABLE public.rung_need (
    rung_key text NOT NULL,
    needs_key text NOT NULL,
    CONSTRAINT rung_need_check CHECK ((rung_key <> needs_key))
);
ALTER TABLE ONLY public.rung_need FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.rung_need IS 'Prerequisites. Longer circles are refused by name in the program before they are written.';
CREATE TABLE public.schema_migrations (
    version bigint NOT NULL,
    dirty boolean NOT NULL
);
CREATE TABLE public.second_factor (
    account_id uuid NOT NULL,
    secret bytea NOT NULL,
    made_at timestamp with time zone NOT NULL,
    confirmed_at timestamp with time zone,
    last_step bigint DEFAULT 0 NOT NULL,
    key_id text DEFAULT ''::text NOT NULL,
    CONSTRAINT second_factor_secret_check CHECK (
CASE
    WHEN (key_id = ''::text) THEN (length(secret) = 20)
    ELSE ((key_id ~ '^[0-9a-f]{8}$'::text) AND (length(secret) = 48))
END)
);
ALTER TABLE ONLY public.second_factor FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.second_factor IS 'The secret that the program shares with an authenticator (RFC 6238). In force once a first code has been shown.';
COMMENT ON COLUMN public.second_factor.last_step IS 'The time step of the last code that was taken: no code is taken twice.';
COMMENT ON COLUMN public.second_factor.key_id IS 'The key by which the secret is sealed (AES-256-GCM: a nonce, the secret, a tag); empty for a secret from before there was one, which the program seals when it starts.';
CREATE TABLE public.session (
    id_hash bytea NOT NULL,
    account_id uuid,
    data bytea NOT NULL,
    created_at timestamp with time zone NOT NULL,
    seen_at timestamp with time zone NOT NULL,
    expires_at timestamp with time zone NOT NULL,
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    browser text DEFAULT ''::text NOT NULL,
    CONSTRAINT session_browser_check CHECK ((length(browser) <= 80)),
    CONSTRAINT session_id_hash_check CHECK ((length(id_hash) = 32))
);
ALTER TABLE ONLY public.session FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.session.id_hash IS 'SHA-256 of the 256-bit id in the cookie: a stolen table opens no session.';
COMMENT ON COLUMN public.session.id IS 'Names the session in the list of one''s browsers; the id in the cookie names it to nobody else.';
COMMENT ON COLUMN public.session.browser IS 'The kind of browser and computer in words, such as Firefox on Linux.';
CREATE TABLE public.sheet_item (
    id uuid NOT NULL,
    digest text NOT NULL,
    receipt_id uuid NOT NULL,
    lesson_id uuid,
    child_id uuid,
    sent_by uuid,
    content text NOT NULL,
    answer text NOT NULL,
    words text DEFAULT ''::text NOT NULL,
    received_at timestamp with time zone NOT NULL,
    CONSTRAINT sheet_item_answer_check CHECK ((answer = ANY (ARRAY['stored'::text, 'quarantined'::text, 'invalid'::text, 'conflict'::text])))
);
ALTER TABLE ONLY public.sheet_item FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sheet_item IS 'Append-only: every item that a device sent, as it was sent, with what it was answered. The mark of an item has the item''s id.';
COMMENT ON COLUMN public.sheet_item.digest IS 'Hex SHA-256 of the content: the same id with other content is a conflict, and both are kept.';
COMMENT ON COLUMN public.sheet_item.content IS 'JSON as it was sent, which need not make sense.';
CREATE TABLE public.sheet_note (
    id uuid NOT NULL,
    lesson_id uuid NOT NULL,
    child_id uuid,
    note text NOT NULL,
    written_by uuid,
    written_at timestamp with time zone NOT NULL,
    CONSTRAINT sheet_note_note_check CHECK (((length(TRIM(BOTH FROM note)) >= 1) AND (length(TRIM(BOTH FROM note)) <= 500)))
);
ALTER TABLE ONLY public.sheet_note FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sheet_note IS 'Append-only quick notes from the hall, about a child or the lesson. Read by teachers of the class only.';
CREATE TABLE public.sheet_receipt (
    id uuid NOT NULL,
    sent_by uuid,
    items integer NOT NULL,
    received_at timestamp with time zone NOT NULL,
    CONSTRAINT sheet_receipt_items_check CHECK (((items >= 0) AND (items <= 200)))
);
ALTER TABLE ONLY public.sheet_receipt FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sheet_receipt IS 'A row for each batch of items, also when every item in it is known: so that no answer leaves before a commit of its own, which a synchronous standby has too.';
CREATE TABLE public.sheet_verdict (
    item_id uuid NOT NULL,
    digest text NOT NULL,
    accepted boolean NOT NULL,
    given_by uuid,
    given_at timestamp with time zone NOT NULL
);
ALTER TABLE ONLY public.sheet_verdict FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sheet_verdict IS 'What a teacher decided about an item that was quarantined or in conflict.';
CREATE TABLE public.sign_in_attempt (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    email text NOT NULL,
    at timestamp with time zone NOT NULL,
    success boolean NOT NULL
);
ALTER TABLE ONLY public.sign_in_attempt FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sign_in_attempt IS 'Counts guesses per account across all running copies of the program.';
CREATE TABLE public.sign_off (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    staff_id uuid NOT NULL,
    rung_key text NOT NULL,
    granted_by uuid,
    granted_on date NOT NULL,
    expires_on date NOT NULL,
    revoked_at timestamp with time zone,
    CONSTRAINT sign_off_check CHECK ((expires_on >= granted_on))
);
ALTER TABLE ONLY public.sign_off FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sign_off IS 'The person may spot this rung (and its drills) until the date. A renewal is a new row.';
CREATE TABLE public.sign_off_request (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    staff_id uuid NOT NULL,
    ladder_key text,
    rung_key text,
    words text DEFAULT ''::text NOT NULL,
    asked_at timestamp with time zone NOT NULL,
    decided_by uuid,
    decided_at timestamp with time zone,
    granted boolean,
    answer text DEFAULT ''::text NOT NULL,
    CONSTRAINT sign_off_request_answer_check CHECK ((length(answer) <= 400)),
    CONSTRAINT sign_off_request_check CHECK ((num_nonnulls(ladder_key, rung_key) = 1)),
    CONSTRAINT sign_off_request_check1 CHECK (((decided_at IS NULL) = (granted IS NULL))),
    CONSTRAINT sign_off_request_words_check CHECK ((length(words) <= 400))
);
ALTER TABLE ONLY public.sign_off_request FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.sign_off_request IS 'Somebody asks to be seen spotting a rung, or every spotted rung of a ladder; a teacher observes, then grants until a date or declines.';
CREATE TABLE public.soreness (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    child_id uuid NOT NULL,
    reported_by uuid,
    reported_at timestamp with time zone NOT NULL,
    place text NOT NULL,
    how_much integer NOT NULL,
    doing text DEFAULT ''::text NOT NULL,
    signs text[] DEFAULT '{}'::text[] NOT NULL,
    care_limit_id uuid,
    began_on date,
    CONSTRAINT soreness_how_much_check CHECK (((how_much >= 0) AND (how_much <= 10))),
    CONSTRAINT soreness_place_check CHECK (((length(TRIM(BOTH FROM place)) >= 1) AND (length(TRIM(BOTH FROM place)) <= 80)))
);
ALTER TABLE ONLY public.soreness FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.soreness.signs IS 'Signs that call for help at once, as ticked: numbness, weakness, odd walking and the like.';
COMMENT ON COLUMN public.soreness.began_on IS 'Since when it has hurt, as the family says; null in reports from before it was asked for.';
CREATE TABLE public.staff (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    account_id uuid,
    name text NOT NULL COLLATE pg_catalog."und-x-icu",
    trainee boolean DEFAULT false NOT NULL,
    can_lead boolean DEFAULT true NOT NULL,
    left_on date,
    CONSTRAINT staff_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 120)))
);
ALTER TABLE ONLY public.staff FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.staff.trainee IS 'A trainee helps at a station and never counts as a spotter.';
COMMENT ON COLUMN public.staff.can_lead IS 'May run a station.';
CREATE TABLE public.staff_attendance (
    lesson_id uuid NOT NULL,
    staff_id uuid NOT NULL,
    present boolean NOT NULL,
    noted_at timestamp with time zone NOT NULL
);
ALTER TABLE ONLY public.staff_attendance FORCE ROW LEVEL SECURITY;
CREATE TABLE public.staff_detail (
    staff_id uuid NOT NULL,
    birth_date date NOT NULL,
    phone text DEFAULT ''::text NOT NULL
);
ALTER TABLE ONLY public.staff_detail FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.staff_detail IS 'Apart from staff so that assistants see each other''s names and nothing more.';
CREATE TABLE public.studio_settings (
    one boolean DEFAULT true NOT NULL,
    chosen jsonb DEFAULT '{}'::jsonb NOT NULL,
    changed_by uuid,
    changed_at timestamp with time zone NOT NULL,
    CONSTRAINT studio_settings_chosen_check CHECK ((jsonb_typeof(chosen) = 'object'::text)),
    CONSTRAINT studio_settings_one_check CHECK (one)
);
ALTER TABLE ONLY public.studio_settings FORCE ROW LEVEL SECURITY;
COMMENT ON TABLE public.studio_settings IS 'One row. Read with the scope of every transaction, so it must stay small and hold nothing about people.';
COMMENT ON COLUMN public.studio_settings.chosen IS 'The fields of studio.Settings that the studio chose; a new field needs no migration.';
CREATE TABLE public.term (
    id uuid DEFAULT gen_random_uuid() NOT NULL,
    name text NOT NULL COLLATE pg_catalog."und-x-icu",
    starts_on date NOT NULL,
    ends_on date NOT NULL,
    showcase_on date,
    archived_at timestamp with time zone,
    CONSTRAINT term_check CHECK ((ends_on > starts_on)),
    CONSTRAINT term_check1 CHECK (((showcase_on IS NULL) OR ((showcase_on >= starts_on) AND (showcase_on <= ends_on)))),
    CONSTRAINT term_name_check CHECK (((length(TRIM(BOTH FROM name)) >= 1) AND (length(TRIM(BOTH FROM name)) <= 80)))
);
ALTER TABLE ONLY public.term FORCE ROW LEVEL SECURITY;
COMMENT ON COLUMN public.term.archived_at IS 'Since when the term has been put away: what is in it can be read, and not changed.';
ALTER TABLE ONLY public.account_browser
    ADD CONSTRAINT account_browser_pkey PRIMARY KEY (account_id, browser);
ALTER TABLE ONLY public.account
    ADD CONSTRAINT account_email_key UNIQUE (email);
ALTER TABLE ONLY public.account_note
    ADD CONSTRAINT account_note_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.account
    ADD CONSTRAINT account_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.account_role
    ADD CONSTRAINT account_role_pkey PRIMARY KEY (account_id, role);
ALTER TABLE ONLY public.account_secret
    ADD CONSTRAINT account_secret_pkey PRIMARY KEY (account_id);
ALTER TABLE ONLY public.attendance
    ADD CONSTRAINT attendance_pkey PRIMARY KEY (lesson_id, child_id);
ALTER TABLE ONLY public.audit_link
    ADD CONSTRAINT audit_link_audit_id_key UNIQUE (audit_id);
ALTER TABLE ONLY public.audit_link
    ADD CONSTRAINT audit_link_pkey PRIMARY KEY (seq);
ALTER TABLE ONLY public.audit
    ADD CONSTRAINT audit_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.calendar_feed
    ADD CONSTRAINT calendar_feed_pkey PRIMARY KEY (account_id);
ALTER TABLE ONLY public.calendar_feed
    ADD CONSTRAINT calendar_feed_token_hash_key UNIQUE (token_hash);
ALTER TABLE ONLY public.care_change
    ADD CONSTRAINT care_change_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.care_limit
    ADD CONSTRAINT care_limit_of_child UNIQUE (id, child_id);
ALTER TABLE ONLY public.care_limit
    ADD CONSTRAINT care_limit_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.care_limit_reason
    ADD CONSTRAINT care_limit_reason_pkey PRIMARY KEY (care_limit_id);
ALTER TABLE ONLY public.cause_drill
    ADD CONSTRAINT cause_drill_pkey PRIMARY KEY (rung_key, fault_key, cause_key, drill_key);
ALTER TABLE ONLY public.cause
    ADD CONSTRAINT cause_pkey PRIMARY KEY (rung_key, fault_key, key);
ALTER TABLE ONLY public.child_detail
    ADD CONSTRAINT child_detail_pkey PRIMARY KEY (child_id);
ALTER TABLE ONLY public.child_detail
    ADD CONSTRAINT child_detail_roster_ref_key UNIQUE (roster_ref);
ALTER TABLE ONLY public.child_effort
    ADD CONSTRAINT child_effort_pkey PRIMARY KEY (lesson_id, child_id);
ALTER TABLE ONLY public.child_note
    ADD CONSTRAINT child_note_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.child
    ADD CONSTRAINT child_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.class_pair
    ADD CONSTRAINT class_pair_pkey PRIMARY KEY (class_id, child_a, child_b);
ALTER TABLE ONLY public.class
    ADD CONSTRAINT class_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.class_staff
    ADD CONSTRAINT class_staff_pkey PRIMARY KEY (class_id, staff_id, duty, from_on);
ALTER TABLE ONLY public.class
    ADD CONSTRAINT class_term_id_name_key UNIQUE (term_id, name);
ALTER TABLE ONLY public.consent_answer
    ADD CONSTRAINT consent_answer_child_id_purpose_account_id_nth_key UNIQUE (child_id, purpose, account_id, nth);
ALTER TABLE ONLY public.consent_answer
    ADD CONSTRAINT consent_answer_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.consent_text
    ADD CONSTRAINT consent_text_pkey PRIMARY KEY (purpose, version);
ALTER TABLE ONLY public.drill_equipment
    ADD CONSTRAINT drill_equipment_pkey PRIMARY KEY (drill_key, equipment_key);
ALTER TABLE ONLY public.drill
    ADD CONSTRAINT drill_key_home_safe_key UNIQUE (key, home_safe);
ALTER TABLE ONLY public.drill
    ADD CONSTRAINT drill_key_spotters UNIQUE (key, spot_people);
ALTER TABLE ONLY public.drill
    ADD CONSTRAINT drill_pkey PRIMARY KEY (key);
ALTER TABLE ONLY public.drill_rung
    ADD CONSTRAINT drill_rung_pkey PRIMARY KEY (drill_key, rung_key);
ALTER TABLE ONLY public.email_change
    ADD CONSTRAINT email_change_confirm_hash_key UNIQUE (confirm_hash);
ALTER TABLE ONLY public.email_change
    ADD CONSTRAINT email_change_pkey PRIMARY KEY (account_id);
ALTER TABLE ONLY public.email_change
    ADD CONSTRAINT email_change_stop_hash_key UNIQUE (stop_hash);
ALTER TABLE ONLY public.enrolment
    ADD CONSTRAINT enrolment_pkey PRIMARY KEY (class_id, child_id);
ALTER TABLE ONLY public.equipment
    ADD CONSTRAINT equipment_pkey PRIMARY KEY (key);
ALTER TABLE ONLY public.erasure_request
    ADD CONSTRAINT erasure_request_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.fault
    ADD CONSTRAINT fault_pkey PRIMARY KEY (rung_key, key);
ALTER TABLE ONLY public.forecast_kept
    ADD CONSTRAINT forecast_kept_pkey PRIMARY KEY (class_id, made_on, made_for, due_on, child_id);
ALTER TABLE ONLY public.guardian
    ADD CONSTRAINT guardian_pkey PRIMARY KEY (account_id, child_id);
ALTER TABLE ONLY public.health_read
    ADD CONSTRAINT health_read_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.holiday
    ADD CONSTRAINT holiday_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.home_assignment
    ADD CONSTRAINT home_assignment_of_child UNIQUE (id, child_id);
ALTER TABLE ONLY public.home_assignment
    ADD CONSTRAINT home_assignment_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.home_exception
    ADD CONSTRAINT home_exception_id_child_id_drill_key_key UNIQUE (id, child_id, drill_key);
ALTER TABLE ONLY public.home_exception
    ADD CONSTRAINT home_exception_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.incident_addition
    ADD CONSTRAINT incident_addition_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.incident_person
    ADD CONSTRAINT incident_person_pkey PRIMARY KEY (incident_id);
ALTER TABLE ONLY public.incident
    ADD CONSTRAINT incident_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.invitation
    ADD CONSTRAINT invitation_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.invitation
    ADD CONSTRAINT invitation_token_hash_key UNIQUE (token_hash);
ALTER TABLE ONLY public.ladder
    ADD CONSTRAINT ladder_pkey PRIMARY KEY (key);
ALTER TABLE ONLY public.lesson_block
    ADD CONSTRAINT lesson_block_pkey PRIMARY KEY (lesson_id, "position");
ALTER TABLE ONLY public.lesson
    ADD CONSTRAINT lesson_class_id_starts_at_key UNIQUE (class_id, starts_at);
ALTER TABLE ONLY public.lesson_clock
    ADD CONSTRAINT lesson_clock_pkey PRIMARY KEY (lesson_id);
ALTER TABLE ONLY public.lesson_effort
    ADD CONSTRAINT lesson_effort_pkey PRIMARY KEY (lesson_id);
ALTER TABLE ONLY public.lesson_note
    ADD CONSTRAINT lesson_note_pkey PRIMARY KEY (lesson_id);
ALTER TABLE ONLY public.lesson
    ADD CONSTRAINT lesson_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.mark_confirmation
    ADD CONSTRAINT mark_confirmation_pkey PRIMARY KEY (mark_id);
ALTER TABLE ONLY public.mark_fault
    ADD CONSTRAINT mark_fault_pkey PRIMARY KEY (mark_id, fault_key);
ALTER TABLE ONLY public.mark
    ADD CONSTRAINT mark_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.message
    ADD CONSTRAINT message_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.message_read
    ADD CONSTRAINT message_read_pkey PRIMARY KEY (message_id, account_id);
ALTER TABLE ONLY public.pacing_before
    ADD CONSTRAINT pacing_before_pkey PRIMARY KEY (class_id);
ALTER TABLE ONLY public.pacing
    ADD CONSTRAINT pacing_pkey PRIMARY KEY (class_id);
ALTER TABLE ONLY public.pacing_rung
    ADD CONSTRAINT pacing_rung_pkey PRIMARY KEY (class_id, rung_key);
ALTER TABLE ONLY public.passkey
    ADD CONSTRAINT passkey_credential_id_key UNIQUE (credential_id);
ALTER TABLE ONLY public.passkey
    ADD CONSTRAINT passkey_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.piece_part_child
    ADD CONSTRAINT piece_part_child_pkey PRIMARY KEY (part_id, child_id);
ALTER TABLE ONLY public.piece_part
    ADD CONSTRAINT piece_part_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.piece_part_rung
    ADD CONSTRAINT piece_part_rung_pkey PRIMARY KEY (part_id, rung_key);
ALTER TABLE ONLY public.piece
    ADD CONSTRAINT piece_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.piece_swap
    ADD CONSTRAINT piece_swap_pkey PRIMARY KEY (piece_id, child_id, rung_key);
ALTER TABLE ONLY public.plan_before
    ADD CONSTRAINT plan_before_pkey PRIMARY KEY (plan_id);
ALTER TABLE ONLY public.plan_cell
    ADD CONSTRAINT plan_cell_pkey PRIMARY KEY (plan_id, rotation, group_no);
ALTER TABLE ONLY public.plan_entry
    ADD CONSTRAINT plan_entry_pkey PRIMARY KEY (plan_id, rotation, child_id);
ALTER TABLE ONLY public.plan
    ADD CONSTRAINT plan_lesson_id_key UNIQUE (lesson_id);
ALTER TABLE ONLY public.plan_member
    ADD CONSTRAINT plan_member_pkey PRIMARY KEY (plan_id, child_id);
ALTER TABLE ONLY public.plan
    ADD CONSTRAINT plan_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.plan_staff
    ADD CONSTRAINT plan_staff_pkey PRIMARY KEY (plan_id, rotation, group_no, staff_id, duty);
ALTER TABLE ONLY public.practice
    ADD CONSTRAINT practice_pkey PRIMARY KEY (assignment_id, done_on);
ALTER TABLE ONLY public.recovery_code
    ADD CONSTRAINT recovery_code_pkey PRIMARY KEY (account_id, place);
ALTER TABLE ONLY public.report_bundle_file
    ADD CONSTRAINT report_bundle_file_pkey PRIMARY KEY (bundle_id, name);
ALTER TABLE ONLY public.report_bundle_part
    ADD CONSTRAINT report_bundle_part_pkey PRIMARY KEY (bundle_id, class_id);
ALTER TABLE ONLY public.report_bundle
    ADD CONSTRAINT report_bundle_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.report_note
    ADD CONSTRAINT report_note_pkey PRIMARY KEY (class_id, child_id);
ALTER TABLE ONLY public.report_release
    ADD CONSTRAINT report_release_pkey PRIMARY KEY (class_id, child_id);
ALTER TABLE ONLY public.retention_run
    ADD CONSTRAINT retention_run_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.retention_run
    ADD CONSTRAINT retention_run_ran_on_key UNIQUE (ran_on);
ALTER TABLE ONLY public.rung_equipment
    ADD CONSTRAINT rung_equipment_pkey PRIMARY KEY (rung_key, equipment_key);
ALTER TABLE ONLY public.rung_fit
    ADD CONSTRAINT rung_fit_pkey PRIMARY KEY (rung_key);
ALTER TABLE ONLY public.rung
    ADD CONSTRAINT rung_ladder_key_position_key UNIQUE (ladder_key, "position") DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE ONLY public.rung_need
    ADD CONSTRAINT rung_need_pkey PRIMARY KEY (rung_key, needs_key);
ALTER TABLE ONLY public.rung
    ADD CONSTRAINT rung_pkey PRIMARY KEY (key);
ALTER TABLE ONLY public.schema_migrations
    ADD CONSTRAINT schema_migrations_pkey PRIMARY KEY (version);
ALTER TABLE ONLY public.second_factor
    ADD CONSTRAINT second_factor_pkey PRIMARY KEY (account_id);
ALTER TABLE ONLY public.session
    ADD CONSTRAINT session_id_key UNIQUE (id);
ALTER TABLE ONLY public.session
    ADD CONSTRAINT session_pkey PRIMARY KEY (id_hash);
ALTER TABLE ONLY public.sheet_item
    ADD CONSTRAINT sheet_item_pkey PRIMARY KEY (id, digest);
ALTER TABLE ONLY public.sheet_note
    ADD CONSTRAINT sheet_note_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.sheet_receipt
    ADD CONSTRAINT sheet_receipt_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.sheet_verdict
    ADD CONSTRAINT sheet_verdict_pkey PRIMARY KEY (item_id, digest);
ALTER TABLE ONLY public.sign_in_attempt
    ADD CONSTRAINT sign_in_attempt_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.sign_off
    ADD CONSTRAINT sign_off_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.sign_off_request
    ADD CONSTRAINT sign_off_request_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.soreness
    ADD CONSTRAINT soreness_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.staff
    ADD CONSTRAINT staff_account_id_key UNIQUE (account_id);
ALTER TABLE ONLY public.staff_attendance
    ADD CONSTRAINT staff_attendance_pkey PRIMARY KEY (lesson_id, staff_id);
ALTER TABLE ONLY public.staff_detail
    ADD CONSTRAINT staff_detail_pkey PRIMARY KEY (staff_id);
ALTER TABLE ONLY public.staff
    ADD CONSTRAINT staff_pkey PRIMARY KEY (id);
ALTER TABLE ONLY public.studio_settings
    ADD CONSTRAINT studio_settings_pkey PRIMARY KEY (one);
ALTER TABLE ONLY public.term
    ADD CONSTRAINT term_name_key UNIQUE (name);
ALTER TABLE ONLY public.term
    ADD CONSTRAINT term_pkey PRIMARY KEY (id);
CREATE INDEX account_note_account_idx ON public.account_note USING btree (account_id, at);
CREATE INDEX attendance_child_idx ON public.attendance USING btree (child_id);
CREATE INDEX audit_at_idx ON public.audit USING btree (at);
CREATE INDEX audit_subject_idx ON public.audit USING btree (subject, at);
CREATE INDEX care_change_limit_idx ON public.care_change USING btree (care_limit_id, at);
CREATE INDEX care_limit_child_idx ON public.care_limit USING btree (child_id);
CREATE INDEX child_effort_child_idx ON public.child_effort USING btree (child_id);
CREATE INDEX child_note_child_idx ON public.child_note USING btree (child_id, written_at);
CREATE INDEX class_pair_child_a_idx ON public.class_pair USING btree (child_a);
CREATE INDEX class_pair_child_b_idx ON public.class_pair USING btree (child_b);
CREATE INDEX class_staff_staff_idx ON public.class_staff USING btree (staff_id);
CREATE INDEX enrolment_child_idx ON public.enrolment USING btree (child_id);
CREATE UNIQUE INDEX erasure_request_once ON public.erasure_request USING btree (child_id) WHERE (decided_at IS NULL);
CREATE INDEX forecast_kept_child_idx ON public.forecast_kept USING btree (child_id);
CREATE INDEX forecast_kept_due_idx ON public.forecast_kept USING btree (due_on);
CREATE INDEX guardian_child_idx ON public.guardian USING btree (child_id);
CREATE INDEX health_read_child_idx ON public.health_read USING btree (child_id, at);
CREATE INDEX home_assignment_child_idx ON public.home_assignment USING btree (child_id);
CREATE INDEX home_assignment_exception_idx ON public.home_assignment USING btree (exception_id) WHERE (exception_id IS NOT NULL);
CREATE UNIQUE INDEX home_exception_once ON public.home_exception USING btree (child_id, drill_key) WHERE (ended_at IS NULL);
CREATE INDEX incident_addition_incident_idx ON public.incident_addition USING btree (incident_id);
CREATE INDEX incident_lesson_idx ON public.incident USING btree (lesson_id);
CREATE INDEX mark_child_idx ON public.mark USING btree (child_id, rung_key, received_at);
CREATE INDEX mark_lesson_idx ON public.mark USING btree (lesson_id);
CREATE INDEX mark_replaces_idx ON public.mark USING btree (replaces) WHERE (replaces IS NOT NULL);
CREATE INDEX message_child_idx ON public.message USING btree (child_id);
CREATE INDEX message_class_idx ON public.message USING btree (class_id);
CREATE INDEX passkey_account_idx ON public.passkey USING btree (account_id);
CREATE UNIQUE INDEX piece_name_key ON public.piece USING btree (class_id, lower(name));
CREATE INDEX piece_part_child_idx ON public.piece_part_child USING btree (child_id);
CREATE UNIQUE INDEX piece_part_name_key ON public.piece_part USING btree (piece_id, lower(name));
CREATE INDEX piece_swap_child_idx ON public.piece_swap USING btree (child_id);
CREATE INDEX practice_child_idx ON public.practice USING btree (child_id, done_on);
CREATE INDEX report_bundle_asked_idx ON public.report_bundle USING btree (asked_by, asked_at);
CREATE INDEX report_note_child_idx ON public.report_note USING btree (child_id);
CREATE INDEX report_release_child_idx ON public.report_release USING btree (child_id);
CREATE INDEX session_account_idx ON public.session USING btree (account_id);
CREATE INDEX session_expires_idx ON public.session USING btree (expires_at);
CREATE INDEX sheet_item_lesson_idx ON public.sheet_item USING btree (lesson_id) WHERE (answer <> 'stored'::text);
CREATE UNIQUE INDEX sheet_item_once ON public.sheet_item USING btree (id) WHERE (answer <> 'conflict'::text);
CREATE INDEX sheet_note_lesson_idx ON public.sheet_note USING btree (lesson_id);
CREATE INDEX sign_in_attempt_email_idx ON public.sign_in_attempt USING btree (email, at);
CREATE UNIQUE INDEX sign_off_request_once ON public.sign_off_request USING btree (staff_id, ladder_key, rung_key) NULLS NOT DISTINCT WHERE (decided_at IS NULL);
CREATE INDEX sign_off_staff_idx ON public.sign_off USING btree (staff_id, rung_key);
CREATE INDEX soreness_child_idx ON public.soreness USING btree (child_id);
CREATE TRIGGER audit_append_only BEFORE DELETE OR UPDATE ON public.audit FOR EACH ROW EXECUTE FUNCTION public.refuse_change();
CREATE CONSTRAINT TRIGGER audit_chain AFTER INSERT ON public.audit DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION public.audit_chain();
CREATE TRIGGER audit_link_append_only BEFORE DELETE OR UPDATE ON public.audit_link FOR EACH ROW EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER child_note_append_only BEFORE UPDATE ON public.child_note FOR EACH ROW WHEN ((NOT (old.written_by IS DISTINCT FROM new.written_by))) EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER consent_answer_append_only BEFORE UPDATE ON public.consent_answer FOR EACH ROW EXECUTE FUNCTION public.keep_words('account_id');
CREATE TRIGGER consent_text_append_only BEFORE UPDATE ON public.consent_text FOR EACH ROW EXECUTE FUNCTION public.keep_words('written_by');
CREATE TRIGGER home_assignment_has_exception BEFORE INSERT OR UPDATE OF exception_id, withdrawn_at, from_on, until_on ON public.home_assignment FOR EACH ROW EXECUTE FUNCTION public.home_assignment_has_exception();
CREATE TRIGGER home_assignment_obeys_limits BEFORE INSERT OR UPDATE ON public.home_assignment FOR EACH ROW EXECUTE FUNCTION public.home_assignment_obeys_limits();
CREATE TRIGGER home_exception_append_only BEFORE UPDATE ON public.home_exception FOR EACH ROW EXECUTE FUNCTION public.home_exception_keeps();
CREATE TRIGGER home_exception_withdraws AFTER UPDATE ON public.home_exception FOR EACH ROW WHEN (((old.ended_at IS NULL) AND (new.ended_at IS NOT NULL))) EXECUTE FUNCTION public.home_exception_withdraws();
CREATE TRIGGER lesson_revised BEFORE UPDATE ON public.lesson FOR EACH ROW WHEN (((old.starts_at <> new.starts_at) OR (old.minutes <> new.minutes) OR (old.cancelled_at IS DISTINCT FROM new.cancelled_at))) EXECUTE FUNCTION public.lesson_revised();
CREATE TRIGGER mark_append_only BEFORE UPDATE ON public.mark FOR EACH ROW WHEN (((old.* IS DISTINCT FROM new.*) AND (old.rung_key = new.rung_key) AND (NOT (old.marked_by IS DISTINCT FROM new.marked_by)))) EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.attendance FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('lesson');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.class FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('term');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.class_pair FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.class_staff FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.enrolment FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.holiday FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('term');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.lesson FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.lesson_block FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('lesson');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.lesson_note FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('lesson');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.mark FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('lesson');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.pacing FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.pacing_rung FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.piece FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.plan FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('lesson');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.report_note FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('class');
CREATE TRIGGER put_away BEFORE INSERT OR DELETE OR UPDATE ON public.staff_attendance FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('lesson');
CREATE TRIGGER put_away BEFORE DELETE OR UPDATE ON public.term FOR EACH ROW WHEN (((pg_trigger_depth() = 0) AND (COALESCE(current_setting('app.erase'::text, true), ''::text) = ''::text) AND (COALESCE(current_setting('app.clear'::text, true), ''::text) = ''::text))) EXECUTE FUNCTION public.refuse_archived('itself');
CREATE TRIGGER sign_off_is_not_for_trainees BEFORE INSERT ON public.sign_off FOR EACH ROW EXECUTE FUNCTION public.sign_off_is_not_for_trainees();
ALTER TABLE ONLY public.account_browser
    ADD CONSTRAINT account_browser_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.account_note
    ADD CONSTRAINT account_note_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.account_role
    ADD CONSTRAINT account_role_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.account_secret
    ADD CONSTRAINT account_secret_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.attendance
    ADD CONSTRAINT attendance_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.attendance
    ADD CONSTRAINT attendance_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.attendance
    ADD CONSTRAINT attendance_noted_by_fkey FOREIGN KEY (noted_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.audit_link
    ADD CONSTRAINT audit_link_audit_id_fkey FOREIGN KEY (audit_id) REFERENCES public.audit(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.calendar_feed
    ADD CONSTRAINT calendar_feed_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.care_change
    ADD CONSTRAINT care_change_by_account_fkey FOREIGN KEY (by_account) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.care_change
    ADD CONSTRAINT care_change_care_limit_id_child_id_fkey FOREIGN KEY (care_limit_id, child_id) REFERENCES public.care_limit(id, child_id) ON DELETE CASCADE;
ALTER TABLE ONLY public.care_change
    ADD CONSTRAINT care_change_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.care_limit
    ADD CONSTRAINT care_limit_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.care_limit
    ADD CONSTRAINT care_limit_cleared_by_fkey FOREIGN KEY (cleared_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.care_limit_reason
    ADD CONSTRAINT care_limit_reason_care_limit_id_fkey FOREIGN KEY (care_limit_id) REFERENCES public.care_limit(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.care_limit
    ADD CONSTRAINT care_limit_set_by_fkey FOREIGN KEY (set_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.cause_drill
    ADD CONSTRAINT cause_drill_drill_key_fkey FOREIGN KEY (drill_key) REFERENCES public.drill(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.cause_drill
    ADD CONSTRAINT cause_drill_rung_key_fault_key_cause_key_fkey FOREIGN KEY (rung_key, fault_key, cause_key) REFERENCES public.cause(rung_key, fault_key, key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.cause
    ADD CONSTRAINT cause_rung_key_fault_key_fkey FOREIGN KEY (rung_key, fault_key) REFERENCES public.fault(rung_key, key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.child_detail
    ADD CONSTRAINT child_detail_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.child_effort
    ADD CONSTRAINT child_effort_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.child_effort
    ADD CONSTRAINT child_effort_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.child_effort
    ADD CONSTRAINT child_effort_noted_by_fkey FOREIGN KEY (noted_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.child_note
    ADD CONSTRAINT child_note_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.child_note
    ADD CONSTRAINT child_note_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.class_pair
    ADD CONSTRAINT class_pair_child_a_fkey FOREIGN KEY (child_a) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.class_pair
    ADD CONSTRAINT class_pair_child_b_fkey FOREIGN KEY (child_b) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.class_pair
    ADD CONSTRAINT class_pair_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.class_staff
    ADD CONSTRAINT class_staff_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.class_staff
    ADD CONSTRAINT class_staff_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.class
    ADD CONSTRAINT class_term_id_fkey FOREIGN KEY (term_id) REFERENCES public.term(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.consent_answer
    ADD CONSTRAINT consent_answer_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.consent_answer
    ADD CONSTRAINT consent_answer_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.consent_answer
    ADD CONSTRAINT consent_answer_purpose_version_fkey FOREIGN KEY (purpose, version) REFERENCES public.consent_text(purpose, version);
ALTER TABLE ONLY public.consent_text
    ADD CONSTRAINT consent_text_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.drill_equipment
    ADD CONSTRAINT drill_equipment_drill_key_fkey FOREIGN KEY (drill_key) REFERENCES public.drill(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.drill_equipment
    ADD CONSTRAINT drill_equipment_equipment_key_fkey FOREIGN KEY (equipment_key) REFERENCES public.equipment(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.drill_rung
    ADD CONSTRAINT drill_rung_drill_key_fkey FOREIGN KEY (drill_key) REFERENCES public.drill(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.drill_rung
    ADD CONSTRAINT drill_rung_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.email_change
    ADD CONSTRAINT email_change_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.enrolment
    ADD CONSTRAINT enrolment_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.enrolment
    ADD CONSTRAINT enrolment_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.erasure_request
    ADD CONSTRAINT erasure_request_asked_by_fkey FOREIGN KEY (asked_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.erasure_request
    ADD CONSTRAINT erasure_request_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.erasure_request
    ADD CONSTRAINT erasure_request_decided_by_fkey FOREIGN KEY (decided_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.fault
    ADD CONSTRAINT fault_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.forecast_kept
    ADD CONSTRAINT forecast_kept_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.forecast_kept
    ADD CONSTRAINT forecast_kept_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.guardian
    ADD CONSTRAINT guardian_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.guardian
    ADD CONSTRAINT guardian_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.guardian
    ADD CONSTRAINT guardian_invited_by_fkey FOREIGN KEY (invited_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.health_read
    ADD CONSTRAINT health_read_by_account_fkey FOREIGN KEY (by_account) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.health_read
    ADD CONSTRAINT health_read_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.holiday
    ADD CONSTRAINT holiday_term_id_fkey FOREIGN KEY (term_id) REFERENCES public.term(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.home_assignment
    ADD CONSTRAINT home_assignment_assigned_by_fkey FOREIGN KEY (assigned_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.home_assignment
    ADD CONSTRAINT home_assignment_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.home_assignment
    ADD CONSTRAINT home_assignment_drill_is_home_safe FOREIGN KEY (drill_key, home_safe) REFERENCES public.drill(key, home_safe) ON UPDATE CASCADE;
ALTER TABLE ONLY public.home_assignment
    ADD CONSTRAINT home_assignment_exception FOREIGN KEY (exception_id, child_id, drill_key) REFERENCES public.home_exception(id, child_id, drill_key) ON UPDATE CASCADE;
ALTER TABLE ONLY public.home_exception
    ADD CONSTRAINT home_exception_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.home_exception
    ADD CONSTRAINT home_exception_drill FOREIGN KEY (drill_key, spotters) REFERENCES public.drill(key, spot_people) ON UPDATE CASCADE;
ALTER TABLE ONLY public.home_exception
    ADD CONSTRAINT home_exception_ended_by_fkey FOREIGN KEY (ended_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.home_exception
    ADD CONSTRAINT home_exception_ticked_by_fkey FOREIGN KEY (ticked_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.incident_addition
    ADD CONSTRAINT incident_addition_incident_id_fkey FOREIGN KEY (incident_id) REFERENCES public.incident(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.incident_addition
    ADD CONSTRAINT incident_addition_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.incident
    ADD CONSTRAINT incident_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.incident
    ADD CONSTRAINT incident_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.incident_person
    ADD CONSTRAINT incident_person_incident_id_fkey FOREIGN KEY (incident_id) REFERENCES public.incident(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.incident
    ADD CONSTRAINT incident_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.invitation
    ADD CONSTRAINT invitation_created_by_fkey FOREIGN KEY (created_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.invitation
    ADD CONSTRAINT invitation_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.lesson_block
    ADD CONSTRAINT lesson_block_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.lesson
    ADD CONSTRAINT lesson_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.lesson_clock
    ADD CONSTRAINT lesson_clock_changed_by_fkey FOREIGN KEY (changed_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.lesson_clock
    ADD CONSTRAINT lesson_clock_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.lesson_effort
    ADD CONSTRAINT lesson_effort_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.lesson_effort
    ADD CONSTRAINT lesson_effort_noted_by_fkey FOREIGN KEY (noted_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.lesson_note
    ADD CONSTRAINT lesson_note_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.mark
    ADD CONSTRAINT mark_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.mark_confirmation
    ADD CONSTRAINT mark_confirmation_confirmed_by_fkey FOREIGN KEY (confirmed_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.mark_confirmation
    ADD CONSTRAINT mark_confirmation_mark_id_fkey FOREIGN KEY (mark_id) REFERENCES public.mark(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.mark_fault
    ADD CONSTRAINT mark_fault_mark_id_fkey FOREIGN KEY (mark_id) REFERENCES public.mark(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.mark_fault
    ADD CONSTRAINT mark_fault_rung_key_fault_key_fkey FOREIGN KEY (rung_key, fault_key) REFERENCES public.fault(rung_key, key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.mark
    ADD CONSTRAINT mark_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.mark
    ADD CONSTRAINT mark_marked_by_fkey FOREIGN KEY (marked_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.mark
    ADD CONSTRAINT mark_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.message
    ADD CONSTRAINT message_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.message
    ADD CONSTRAINT message_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.message_read
    ADD CONSTRAINT message_read_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.message_read
    ADD CONSTRAINT message_read_message_id_fkey FOREIGN KEY (message_id) REFERENCES public.message(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.message
    ADD CONSTRAINT message_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.pacing_before
    ADD CONSTRAINT pacing_before_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.pacing(class_id) ON DELETE CASCADE;
ALTER TABLE ONLY public.pacing
    ADD CONSTRAINT pacing_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.pacing_rung
    ADD CONSTRAINT pacing_rung_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.pacing(class_id) ON DELETE CASCADE;
ALTER TABLE ONLY public.pacing_rung
    ADD CONSTRAINT pacing_rung_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.pacing
    ADD CONSTRAINT pacing_saved_by_fkey FOREIGN KEY (saved_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.passkey
    ADD CONSTRAINT passkey_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece
    ADD CONSTRAINT piece_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_part_child
    ADD CONSTRAINT piece_part_child_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_part_child
    ADD CONSTRAINT piece_part_child_part_id_fkey FOREIGN KEY (part_id) REFERENCES public.piece_part(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_part
    ADD CONSTRAINT piece_part_piece_id_fkey FOREIGN KEY (piece_id) REFERENCES public.piece(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_part_rung
    ADD CONSTRAINT piece_part_rung_part_id_fkey FOREIGN KEY (part_id) REFERENCES public.piece_part(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_part_rung
    ADD CONSTRAINT piece_part_rung_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.piece
    ADD CONSTRAINT piece_saved_by_fkey FOREIGN KEY (saved_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.piece_swap
    ADD CONSTRAINT piece_swap_accepted_by_fkey FOREIGN KEY (accepted_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.piece_swap
    ADD CONSTRAINT piece_swap_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_swap
    ADD CONSTRAINT piece_swap_instead_key_fkey FOREIGN KEY (instead_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_swap
    ADD CONSTRAINT piece_swap_piece_id_fkey FOREIGN KEY (piece_id) REFERENCES public.piece(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.piece_swap
    ADD CONSTRAINT piece_swap_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_before
    ADD CONSTRAINT plan_before_plan_id_fkey FOREIGN KEY (plan_id) REFERENCES public.plan(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_cell
    ADD CONSTRAINT plan_cell_ladder_key_fkey FOREIGN KEY (ladder_key) REFERENCES public.ladder(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.plan_cell
    ADD CONSTRAINT plan_cell_plan_id_fkey FOREIGN KEY (plan_id) REFERENCES public.plan(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_entry
    ADD CONSTRAINT plan_entry_drill_key_fkey FOREIGN KEY (drill_key) REFERENCES public.drill(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.plan_entry
    ADD CONSTRAINT plan_entry_plan_id_child_id_fkey FOREIGN KEY (plan_id, child_id) REFERENCES public.plan_member(plan_id, child_id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_entry
    ADD CONSTRAINT plan_entry_plan_id_fkey FOREIGN KEY (plan_id) REFERENCES public.plan(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_entry
    ADD CONSTRAINT plan_entry_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.plan
    ADD CONSTRAINT plan_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_member
    ADD CONSTRAINT plan_member_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_member
    ADD CONSTRAINT plan_member_plan_id_fkey FOREIGN KEY (plan_id) REFERENCES public.plan(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan
    ADD CONSTRAINT plan_saved_by_fkey FOREIGN KEY (saved_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.plan_staff
    ADD CONSTRAINT plan_staff_plan_id_fkey FOREIGN KEY (plan_id) REFERENCES public.plan(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_staff
    ADD CONSTRAINT plan_staff_plan_id_rotation_group_no_fkey FOREIGN KEY (plan_id, rotation, group_no) REFERENCES public.plan_cell(plan_id, rotation, group_no) ON DELETE CASCADE;
ALTER TABLE ONLY public.plan_staff
    ADD CONSTRAINT plan_staff_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.practice
    ADD CONSTRAINT practice_assignment_id_child_id_fkey FOREIGN KEY (assignment_id, child_id) REFERENCES public.home_assignment(id, child_id) ON DELETE CASCADE;
ALTER TABLE ONLY public.practice
    ADD CONSTRAINT practice_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.practice
    ADD CONSTRAINT practice_noted_by_fkey FOREIGN KEY (noted_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.recovery_code
    ADD CONSTRAINT recovery_code_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.second_factor(account_id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_bundle
    ADD CONSTRAINT report_bundle_asked_by_fkey FOREIGN KEY (asked_by) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_bundle_file
    ADD CONSTRAINT report_bundle_file_bundle_id_fkey FOREIGN KEY (bundle_id) REFERENCES public.report_bundle(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_bundle_part
    ADD CONSTRAINT report_bundle_part_bundle_id_fkey FOREIGN KEY (bundle_id) REFERENCES public.report_bundle(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_bundle_part
    ADD CONSTRAINT report_bundle_part_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_bundle
    ADD CONSTRAINT report_bundle_term_id_fkey FOREIGN KEY (term_id) REFERENCES public.term(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_note
    ADD CONSTRAINT report_note_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_note
    ADD CONSTRAINT report_note_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_note
    ADD CONSTRAINT report_note_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.report_release
    ADD CONSTRAINT report_release_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_release
    ADD CONSTRAINT report_release_class_id_fkey FOREIGN KEY (class_id) REFERENCES public.class(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.report_release
    ADD CONSTRAINT report_release_released_by_fkey FOREIGN KEY (released_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.rung_equipment
    ADD CONSTRAINT rung_equipment_equipment_key_fkey FOREIGN KEY (equipment_key) REFERENCES public.equipment(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.rung_equipment
    ADD CONSTRAINT rung_equipment_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.rung_fit
    ADD CONSTRAINT rung_fit_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.rung
    ADD CONSTRAINT rung_ladder_key_fkey FOREIGN KEY (ladder_key) REFERENCES public.ladder(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.rung_need
    ADD CONSTRAINT rung_need_needs_key_fkey FOREIGN KEY (needs_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE RESTRICT;
ALTER TABLE ONLY public.rung_need
    ADD CONSTRAINT rung_need_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.second_factor
    ADD CONSTRAINT second_factor_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.session
    ADD CONSTRAINT session_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.sheet_item
    ADD CONSTRAINT sheet_item_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.sheet_item
    ADD CONSTRAINT sheet_item_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.sheet_item
    ADD CONSTRAINT sheet_item_receipt_id_fkey FOREIGN KEY (receipt_id) REFERENCES public.sheet_receipt(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.sheet_item
    ADD CONSTRAINT sheet_item_sent_by_fkey FOREIGN KEY (sent_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.sheet_note
    ADD CONSTRAINT sheet_note_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.sheet_note
    ADD CONSTRAINT sheet_note_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE RESTRICT;
ALTER TABLE ONLY public.sheet_note
    ADD CONSTRAINT sheet_note_written_by_fkey FOREIGN KEY (written_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.sheet_receipt
    ADD CONSTRAINT sheet_receipt_sent_by_fkey FOREIGN KEY (sent_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.sheet_verdict
    ADD CONSTRAINT sheet_verdict_given_by_fkey FOREIGN KEY (given_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.sheet_verdict
    ADD CONSTRAINT sheet_verdict_item_id_digest_fkey FOREIGN KEY (item_id, digest) REFERENCES public.sheet_item(id, digest) ON DELETE CASCADE;
ALTER TABLE ONLY public.sign_off
    ADD CONSTRAINT sign_off_granted_by_fkey FOREIGN KEY (granted_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.sign_off_request
    ADD CONSTRAINT sign_off_request_decided_by_fkey FOREIGN KEY (decided_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.sign_off_request
    ADD CONSTRAINT sign_off_request_ladder_key_fkey FOREIGN KEY (ladder_key) REFERENCES public.ladder(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.sign_off_request
    ADD CONSTRAINT sign_off_request_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.sign_off_request
    ADD CONSTRAINT sign_off_request_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.sign_off
    ADD CONSTRAINT sign_off_rung_key_fkey FOREIGN KEY (rung_key) REFERENCES public.rung(key) ON UPDATE CASCADE ON DELETE CASCADE;
ALTER TABLE ONLY public.sign_off
    ADD CONSTRAINT sign_off_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.soreness
    ADD CONSTRAINT soreness_care_limit_id_fkey FOREIGN KEY (care_limit_id) REFERENCES public.care_limit(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.soreness
    ADD CONSTRAINT soreness_child_id_fkey FOREIGN KEY (child_id) REFERENCES public.child(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.soreness
    ADD CONSTRAINT soreness_reported_by_fkey FOREIGN KEY (reported_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.staff
    ADD CONSTRAINT staff_account_id_fkey FOREIGN KEY (account_id) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE ONLY public.staff_attendance
    ADD CONSTRAINT staff_attendance_lesson_id_fkey FOREIGN KEY (lesson_id) REFERENCES public.lesson(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.staff_attendance
    ADD CONSTRAINT staff_attendance_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.staff_detail
    ADD CONSTRAINT staff_detail_staff_id_fkey FOREIGN KEY (staff_id) REFERENCES public.staff(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.studio_settings
    ADD CONSTRAINT studio_settings_changed_by_fkey FOREIGN KEY (changed_by) REFERENCES public.account(id) ON DELETE SET NULL;
ALTER TABLE public.account ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.account_browser ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.account_note ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.account_role ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.account_secret ENABLE ROW LEVEL SECURITY;
CREATE POLICY add ON public.attendance FOR INSERT WITH CHECK (((lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND (noted_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))));
CREATE POLICY add ON public.audit FOR INSERT WITH CHECK ((NOT (actor IS DISTINCT FROM ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))));
CREATE POLICY add ON public.audit_link FOR INSERT WITH CHECK (((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)) OR (pg_trigger_depth() > 0)));
CREATE POLICY add ON public.care_change FOR INSERT WITH CHECK (((NOT (by_account IS DISTINCT FROM ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR ((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (what = 'set'::text)))));
CREATE POLICY add ON public.child_note FOR INSERT WITH CHECK (((NOT (written_by IS DISTINCT FROM ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY add ON public.consent_answer FOR INSERT WITH CHECK (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY add ON public.consent_text FOR INSERT WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY add ON public.equipment FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (stock = 0)));
CREATE POLICY add ON public.forecast_kept FOR INSERT WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY add ON public.health_read FOR INSERT WITH CHECK (((NOT (by_account IS DISTINCT FROM ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY add ON public.incident FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((written_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND ((child_id IS NULL) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))));
CREATE POLICY add ON public.incident_addition FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((written_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (incident_id = ANY (ARRAY( SELECT i.id
   FROM public.incident i))))));
CREATE POLICY add ON public.mark FOR INSERT WITH CHECK ((((marked_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND ((lesson_id IS NULL) OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) OR ((child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))));
CREATE POLICY add ON public.mark_confirmation FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((confirmed_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (mark_id = ANY (ARRAY( SELECT m.id
   FROM public.mark m
  WHERE ((m.id = mark_confirmation.mark_id) AND (m.child_id = ANY (ARRAY( SELECT e.child_id
           FROM public.enrolment e
          WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))))));
CREATE POLICY add ON public.mark_fault FOR INSERT WITH CHECK ((mark_id = ANY (ARRAY( SELECT m.id
   FROM public.mark m
  WHERE ((m.id = mark_fault.mark_id) AND ((m.marked_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")))))));
CREATE POLICY add ON public.message FOR INSERT WITH CHECK (((NOT (written_by IS DISTINCT FROM ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY add ON public.message_read FOR INSERT WITH CHECK (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (message_id = ANY (ARRAY( SELECT m.id
   FROM public.message m)))));
CREATE POLICY add ON public.retention_run FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL)));
CREATE POLICY add ON public.sheet_item FOR INSERT WITH CHECK (((sent_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT
   FROM public.account_role r
  WHERE (r.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))))));
CREATE POLICY add ON public.sheet_note FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((written_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (((lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND ((child_id IS NULL) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) OR ((lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND ((child_id IS NULL) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))));
CREATE POLICY add ON public.sheet_receipt FOR INSERT WITH CHECK (((sent_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT
   FROM public.account_role r
  WHERE (r.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))))));
CREATE POLICY ask ON public.erasure_request FOR INSERT WITH CHECK (((asked_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (decided_at IS NULL) AND (decided_by IS NULL)));
CREATE POLICY ask ON public.sign_off_request FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((staff_id = ANY (ARRAY( SELECT s.id
   FROM public.staff s
  WHERE ((s.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (s.left_on IS NULL))))) AND (decided_at IS NULL) AND (decided_by IS NULL))));
ALTER TABLE public.attendance ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.audit ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.audit_link ENABLE ROW LEVEL SECURITY;
CREATE POLICY beside ON public.guardian FOR SELECT USING ((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.may_invite'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])));
ALTER TABLE public.calendar_feed ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.care_change ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.care_limit ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.care_limit_reason ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.cause ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.cause_drill ENABLE ROW LEVEL SECURITY;
CREATE POLICY change ON public.attendance FOR UPDATE USING ((lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))) WITH CHECK (((lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND (noted_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))));
ALTER TABLE public.child ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.child_detail ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.child_effort ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.child_note ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.class ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.class_pair ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.class_staff ENABLE ROW LEVEL SECURITY;
CREATE POLICY command ON public.account_browser USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.account_note USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.account_secret USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.email_change USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.passkey USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.recovery_code USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.second_factor USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)));
CREATE POLICY command ON public.sign_in_attempt USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
ALTER TABLE public.consent_answer ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.consent_text ENABLE ROW LEVEL SECURITY;
CREATE POLICY decide ON public.erasure_request FOR UPDATE USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY decide ON public.sign_off_request FOR UPDATE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
ALTER TABLE public.drill ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.drill_equipment ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.drill_rung ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.email_change ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.enrolment ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.equipment ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.erasure_request ENABLE ROW LEVEL SECURITY;
CREATE POLICY exported ON public.care_change FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.export'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY exported ON public.care_limit_reason FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.export'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (care_limit_id = ANY (ARRAY( SELECT l.id
   FROM public.care_limit l
  WHERE (l.child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY exported ON public.child_effort FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.export'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
ALTER TABLE public.fault ENABLE ROW LEVEL SECURITY;
CREATE POLICY finish ON public.home_exception FOR UPDATE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
ALTER TABLE public.forecast_kept ENABLE ROW LEVEL SECURITY;
CREATE POLICY goes ON public.child_note FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.consent_answer FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif"))));
CREATE POLICY goes ON public.forecast_kept FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.health_read FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.home_exception FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.incident FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (keep_until < ( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif"))));
CREATE POLICY goes ON public.message FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.practice FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.sheet_item FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.sheet_note FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
CREATE POLICY goes ON public.soreness FOR DELETE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((child_id = ( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.clear'::text, true), ''::text))::date AS "nullif") IS NOT NULL))));
ALTER TABLE public.guardian ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.health_read ENABLE ROW LEVEL SECURITY;
CREATE POLICY held ON public.calendar_feed FOR SELECT USING ((encode(token_hash, 'hex'::text) = ( SELECT NULLIF(current_setting('app.secret'::text, true), ''::text) AS "nullif")));
CREATE POLICY held ON public.invitation FOR SELECT USING (((encode(token_hash, 'hex'::text) = ( SELECT NULLIF(current_setting('app.secret'::text, true), ''::text) AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY held ON public.session USING (((encode(id_hash, 'hex'::text) = ( SELECT NULLIF(current_setting('app.secret'::text, true), ''::text) AS "nullif")) OR (account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)))) WITH CHECK ((encode(id_hash, 'hex'::text) = ( SELECT NULLIF(current_setting('app.secret'::text, true), ''::text) AS "nullif")));
ALTER TABLE public.holiday ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.home_assignment ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.home_exception ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.incident ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.incident_addition ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.incident_person ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.invitation ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.ladder ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.lesson ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.lesson_block ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.lesson_clock ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.lesson_effort ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.lesson_note ENABLE ROW LEVEL SECURITY;
CREATE POLICY let_in ON public.guardian FOR UPDATE USING (((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.may_invite'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (invited_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")))) WITH CHECK (((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.may_invite'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (invited_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (NOT ('invite'::text = ANY (rights)))));
CREATE POLICY let_in ON public.invitation FOR INSERT WITH CHECK (((created_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (kind = 'join'::text) AND (roles = '{}'::text[]) AND (staff_id IS NULL) AND (cardinality(child_ids) > 0) AND (child_ids <@ ( SELECT (COALESCE(NULLIF(current_setting('app.may_invite'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")) AND (rights <@ ARRAY['hurt'::text, 'reports'::text])));
ALTER TABLE public.mark ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.mark_confirmation ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.mark_fault ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.message ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.message_read ENABLE ROW LEVEL SECURITY;
CREATE POLICY of_child ON public.audit FOR SELECT USING ((subject = ANY (ARRAY( SELECT ('child '::text || e.child_id)
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))));
CREATE POLICY own ON public.account_browser USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.account_note FOR SELECT USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.account_secret USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.calendar_feed USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.care_limit_reason USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (care_limit_id = ANY (ARRAY( SELECT l.id
   FROM public.care_limit l
  WHERE (l.child_id = ANY (ARRAY( SELECT e.child_id
           FROM public.enrolment e
          WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (care_limit_id = ANY (ARRAY( SELECT l.id
   FROM public.care_limit l
  WHERE (l.child_id = ANY (ARRAY( SELECT e.child_id
           FROM public.enrolment e
          WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))));
CREATE POLICY own ON public.child_effort USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY own ON public.class_pair USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (child_a = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND (child_b = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY own ON public.email_change USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.incident_person USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND (( SELECT (NULLIF(current_setting('app.erase'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL)));
CREATE POLICY own ON public.invitation FOR SELECT USING ((created_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.lesson_clock USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY own ON public.lesson_effort USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY own ON public.lesson_note USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY own ON public.pacing USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY own ON public.pacing_before USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY own ON public.pacing_rung USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY own ON public.passkey USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.piece USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY own ON public.piece_part USING ((piece_id = ANY (ARRAY( SELECT p.id
   FROM public.piece p)))) WITH CHECK ((piece_id = ANY (ARRAY( SELECT p.id
   FROM public.piece p))));
CREATE POLICY own ON public.piece_part_child USING ((part_id = ANY (ARRAY( SELECT q.id
   FROM public.piece_part q)))) WITH CHECK (((part_id = ANY (ARRAY( SELECT q.id
   FROM public.piece_part q))) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY own ON public.piece_part_rung USING ((part_id = ANY (ARRAY( SELECT q.id
   FROM public.piece_part q)))) WITH CHECK ((part_id = ANY (ARRAY( SELECT q.id
   FROM public.piece_part q))));
CREATE POLICY own ON public.piece_swap USING ((piece_id = ANY (ARRAY( SELECT p.id
   FROM public.piece p)))) WITH CHECK (((piece_id = ANY (ARRAY( SELECT p.id
   FROM public.piece p))) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY own ON public.plan_before USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))));
CREATE POLICY own ON public.practice USING ((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))) WITH CHECK (((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (noted_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))));
CREATE POLICY own ON public.recovery_code USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.report_bundle USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((asked_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL)))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") AND ((asked_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR (( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NULL))));
CREATE POLICY own ON public.report_bundle_file USING ((bundle_id = ANY (ARRAY( SELECT b.id
   FROM public.report_bundle b)))) WITH CHECK ((bundle_id = ANY (ARRAY( SELECT b.id
   FROM public.report_bundle b))));
CREATE POLICY own ON public.report_bundle_part USING ((bundle_id = ANY (ARRAY( SELECT b.id
   FROM public.report_bundle b)))) WITH CHECK ((bundle_id = ANY (ARRAY( SELECT b.id
   FROM public.report_bundle b))));
CREATE POLICY own ON public.report_note USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY own ON public.second_factor USING ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY own ON public.sheet_verdict USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (item_id = ANY (ARRAY( SELECT i.id
   FROM public.sheet_item i
  WHERE (i.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK (((given_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (item_id = ANY (ARRAY( SELECT i.id
   FROM public.sheet_item i
  WHERE (i.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))));
ALTER TABLE public.pacing ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.pacing_before ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.pacing_rung ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.passkey ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.piece ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.piece_part ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.piece_part_child ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.piece_part_rung ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.piece_swap ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.plan ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.plan_before ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.plan_cell ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.plan_entry ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.plan_member ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.plan_staff ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.practice ENABLE ROW LEVEL SECURITY;
CREATE POLICY read ON public.account FOR SELECT USING (((id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.account_role FOR SELECT USING (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.attendance FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.audit FOR SELECT USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY read ON public.audit_link FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (pg_trigger_depth() > 0)));
CREATE POLICY read ON public.care_change FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.care_limit FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.cause FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.cause_drill FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.child FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.child_detail FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.child_note FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.class FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (id = ANY (ARRAY( SELECT e.class_id
   FROM public.enrolment e
  WHERE (e.child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.class_staff FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (staff_id = ANY (ARRAY( SELECT s.id
   FROM public.staff s
  WHERE (s.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")))))));
CREATE POLICY read ON public.consent_answer FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.consent_text FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.drill FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.drill_equipment FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.drill_rung FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.enrolment FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assist_classes'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.equipment FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.erasure_request FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.fault FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.forecast_kept FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.guardian FOR SELECT USING (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.health_read FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.holiday FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.home_assignment FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.home_exception FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.incident FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.incident_addition FOR SELECT USING ((incident_id = ANY (ARRAY( SELECT i.id
   FROM public.incident i))));
CREATE POLICY read ON public.ladder FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.lesson FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (class_id = ANY (ARRAY( SELECT e.class_id
   FROM public.enrolment e
  WHERE (e.child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.lesson_block FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.mark FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.mark_confirmation FOR SELECT USING ((mark_id = ANY (ARRAY( SELECT m.id
   FROM public.mark m
  WHERE (m.id = mark_confirmation.mark_id)))));
CREATE POLICY read ON public.mark_fault FOR SELECT USING ((mark_id = ANY (ARRAY( SELECT m.id
   FROM public.mark m
  WHERE (m.id = mark_fault.mark_id)))));
CREATE POLICY read ON public.message FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR ((taken_back_at IS NULL) AND ((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (EXISTS ( SELECT
   FROM public.enrolment e
  WHERE ((e.class_id = message.class_id) AND (e.child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND ((message.written_on >= e.from_on) AND (message.written_on <= COALESCE(e.until_on, 'infinity'::date))))))))));
CREATE POLICY read ON public.message_read FOR SELECT USING (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (message_id = ANY (ARRAY( SELECT m.id
   FROM public.message m
  WHERE ((m.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (m.child_id = ANY (ARRAY( SELECT e.child_id
           FROM public.enrolment e
          WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))));
CREATE POLICY read ON public.plan FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR ((lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (shared_at IS NOT NULL))));
CREATE POLICY read ON public.plan_cell FOR SELECT USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p))));
CREATE POLICY read ON public.plan_entry FOR SELECT USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p))));
CREATE POLICY read ON public.plan_member FOR SELECT USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p))));
CREATE POLICY read ON public.plan_staff FOR SELECT USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p))));
CREATE POLICY read ON public.practice FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.report_release FOR SELECT USING ((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.may_read'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])));
CREATE POLICY read ON public.retention_run FOR SELECT USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY read ON public.rung FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.rung_equipment FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.rung_fit FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.rung_need FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.sheet_item FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.sheet_note FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY read ON public.sheet_receipt FOR SELECT USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY read ON public.sign_off FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (staff_id = ANY (ARRAY( SELECT s.id
   FROM public.staff s
  WHERE (s.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")))))));
CREATE POLICY read ON public.sign_off_request FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (staff_id = ANY (ARRAY( SELECT s.id
   FROM public.staff s
  WHERE ((s.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (s.left_on IS NULL)))))));
CREATE POLICY read ON public.soreness FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.guards'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.staff FOR SELECT USING (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text) <> '{}'::text))));
CREATE POLICY read ON public.staff_attendance FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) OR (lesson_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.assists'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY read ON public.staff_detail FOR SELECT USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (staff_id = ANY (ARRAY( SELECT s.id
   FROM public.staff s
  WHERE (s.account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")))))));
CREATE POLICY read ON public.studio_settings FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY read ON public.term FOR SELECT USING (((( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif") IS NOT NULL) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
ALTER TABLE public.recovery_code ENABLE ROW LEVEL SECURITY;
CREATE POLICY rename ON public.account FOR UPDATE USING ((id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) WITH CHECK ((id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")));
CREATE POLICY report ON public.care_limit FOR INSERT WITH CHECK (((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.may_report'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (set_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (cleared_at IS NULL) AND (until_on IS NULL)));
CREATE POLICY report ON public.soreness FOR INSERT WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((child_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.may_report'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (reported_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")))));
ALTER TABLE public.report_bundle ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.report_bundle_file ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.report_bundle_part ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.report_note ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.report_release ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.retention_run ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.rung ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.rung_equipment ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.rung_fit ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.rung_need ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.second_factor ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.session ENABLE ROW LEVEL SECURITY;
CREATE POLICY settings ON public.class FOR UPDATE USING ((id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))) WITH CHECK ((id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])));
ALTER TABLE public.sheet_item ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.sheet_note ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.sheet_receipt ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.sheet_verdict ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.sign_in_attempt ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.sign_off ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.sign_off_request ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.soreness ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.staff ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.staff_attendance ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.staff_detail ENABLE ROW LEVEL SECURITY;
ALTER TABLE public.studio_settings ENABLE ROW LEVEL SECURITY;
CREATE POLICY take_back ON public.invitation FOR DELETE USING (((created_by = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) AND (used_at IS NULL)));
CREATE POLICY take_back ON public.message FOR UPDATE USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY tell ON public.account_note FOR INSERT WITH CHECK (((account_id = ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif")) OR ( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
ALTER TABLE public.term ENABLE ROW LEVEL SECURITY;
CREATE POLICY tick ON public.home_exception FOR INSERT WITH CHECK (((NOT (ticked_by IS DISTINCT FROM ( SELECT (NULLIF(current_setting('app.actor'::text, true), ''::text))::uuid AS "nullif"))) AND (ended_at IS NULL) AND (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY write ON public.account USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.account_role USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.attendance USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))) AND (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY write ON public.care_limit USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY write ON public.cause USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.cause_drill USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.child USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.child_detail USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.class USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.class_staff USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.drill USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.drill_equipment USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.drill_rung USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.enrolment USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.equipment USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.fault USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.guardian USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.holiday USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.home_assignment USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY write ON public.invitation USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.ladder USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.lesson USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))));
CREATE POLICY write ON public.lesson_block USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY write ON public.plan USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY write ON public.plan_cell USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))));
CREATE POLICY write ON public.plan_entry USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))));
CREATE POLICY write ON public.plan_member USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))));
CREATE POLICY write ON public.plan_staff USING ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))))))) WITH CHECK ((plan_id = ANY (ARRAY( SELECT p.id
   FROM public.plan p
  WHERE (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (p.lesson_id = ANY (ARRAY( SELECT l.id
           FROM public.lesson l
          WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))))));
CREATE POLICY write ON public.report_release USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ((class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])) AND (child_id = ANY (ARRAY( SELECT e.child_id
   FROM public.enrolment e
  WHERE (e.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))));
CREATE POLICY write ON public.rung USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.rung_equipment USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.rung_fit USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.rung_need USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.sign_off USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR ( SELECT (COALESCE(NULLIF(current_setting('app.teacher'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")));
CREATE POLICY write ON public.staff USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.staff_attendance USING ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[]))))))) WITH CHECK ((( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce") OR (lesson_id = ANY (ARRAY( SELECT l.id
   FROM public.lesson l
  WHERE (l.class_id = ANY (( SELECT (COALESCE(NULLIF(current_setting('app.teaches'::text, true), ''::text), '{}'::text))::uuid[] AS "coalesce")::uuid[])))))));
CREATE POLICY write ON public.staff_detail USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.studio_settings USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
CREATE POLICY write ON public.term USING (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce")) WITH CHECK (( SELECT (COALESCE(NULLIF(current_setting('app.owner'::text, true), ''::text), 'off'::text))::boolean AS "coalesce"));
GRANT USAGE ON SCHEMA public TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.audit TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.account TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.account_browser TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.account_note TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.account_role TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.account_secret TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.attendance TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.audit_link TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.calendar_feed TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.care_change TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.care_limit TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.care_limit_reason TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.cause TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.cause_drill TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.child TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.child_detail TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.child_effort TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.child_note TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.class TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.class_pair TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.class_staff TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.consent_answer TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.consent_text TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.drill TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.drill_equipment TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.drill_rung TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.email_change TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.enrolment TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.equipment TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.erasure_request TO rungbook_app;
GRANT UPDATE(asked_by) ON TABLE public.erasure_request TO rungbook_app;
GRANT UPDATE(words) ON TABLE public.erasure_request TO rungbook_app;
GRANT UPDATE(decided_by) ON TABLE public.erasure_request TO rungbook_app;
GRANT UPDATE(decided_at) ON TABLE public.erasure_request TO rungbook_app;
GRANT UPDATE(erased) ON TABLE public.erasure_request TO rungbook_app;
GRANT UPDATE(answer) ON TABLE public.erasure_request TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.fault TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.forecast_kept TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.guardian TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.health_read TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.holiday TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.home_assignment TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.home_exception TO rungbook_app;
GRANT UPDATE(ended_by) ON TABLE public.home_exception TO rungbook_app;
GRANT UPDATE(ended_how) ON TABLE public.home_exception TO rungbook_app;
GRANT UPDATE(ended_at) ON TABLE public.home_exception TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.incident TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.incident_addition TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.incident_person TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.invitation TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.ladder TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.lesson TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.lesson_block TO rungbook_app;
GRANT SELECT,INSERT,UPDATE ON TABLE public.lesson_clock TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.lesson_effort TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.lesson_note TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.mark TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.mark_confirmation TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.mark_fault TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.message TO rungbook_app;
GRANT UPDATE(taken_back_at) ON TABLE public.message TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.message_read TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.pacing TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.pacing_before TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.pacing_rung TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.passkey TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.piece TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.piece_part TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.piece_part_child TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.piece_part_rung TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.piece_swap TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.plan TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.plan_before TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.plan_cell TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.plan_entry TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.plan_member TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.plan_staff TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.practice TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.recovery_code TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.report_bundle TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.report_bundle_file TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.report_bundle_part TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.report_note TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.report_release TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.retention_run TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.rung TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.rung_equipment TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.rung_fit TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.rung_need TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.second_factor TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.session TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.sheet_item TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.sheet_note TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.sheet_receipt TO rungbook_app;
GRANT SELECT,INSERT ON TABLE public.sheet_verdict TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.sign_in_attempt TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.sign_off TO rungbook_app;
GRANT SELECT,INSERT,UPDATE ON TABLE public.sign_off_request TO rungbook_app;
GRANT SELECT,INSERT,DELETE ON TABLE public.soreness TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.staff TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.staff_attendance TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.staff_detail TO rungbook_app;
GRANT SELECT,INSERT,UPDATE ON TABLE public.studio_settings TO rungbook_app;
GRANT SELECT,INSERT,DELETE,UPDATE ON TABLE public.term TO rungbook_app;
