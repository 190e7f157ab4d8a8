-- Work that has not held is asked for at each look at the visits.
create index proof_not_held on proof (at desc) where verdict = 'not-held';
