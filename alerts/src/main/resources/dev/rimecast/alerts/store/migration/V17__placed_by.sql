-- Who put an alert into its case, or took it out of another: the rules leave it there. Null where the rules decided.
alter table alert add column placed_by text;
