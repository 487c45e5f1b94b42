-- The language that somebody reads in.
alter table account add language text not null default '' check (language = '' or (language ~ '^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$' and length(language) <= 35));
comment on column account.language is 'The BCP 47 tag of the language that its holder chose; empty lets the browser say.';
