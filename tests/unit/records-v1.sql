-- A database of version 1 as the program of that version left it: tables, guards and rows.
CREATE TABLE job (number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE entry (
    seq INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    job INTEGER NOT NULL REFERENCES job (number),
    n INTEGER NOT NULL,
    at REAL NOT NULL,
    kind TEXT NOT NULL,
    fact TEXT NOT NULL,
    readings INTEGER NOT NULL,
    here INTEGER NOT NULL CHECK (here IN (0, 1)),
    more TEXT,
    crc INTEGER NOT NULL
  ) STRICT;
CREATE INDEX entry_in_order ON entry (job, n, at, id);
CREATE TABLE reading (
    entry INTEGER NOT NULL REFERENCES entry (seq),
    n INTEGER NOT NULL,
    text TEXT NOT NULL,
    unit TEXT NOT NULL CHECK (unit IN ('mm', 'in')),
    value REAL NOT NULL,
    step REAL NOT NULL,
    at REAL NOT NULL,
    raw TEXT NOT NULL,
    more TEXT,
    crc INTEGER NOT NULL,
    PRIMARY KEY (entry, n)
  ) STRICT, WITHOUT ROWID;
CREATE TRIGGER job_no_update BEFORE UPDATE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of job are only ever added'); END;
CREATE TRIGGER job_no_delete BEFORE DELETE ON job
  BEGIN SELECT RAISE(ABORT, 'rows of job are only ever added'); END;
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry
  BEGIN SELECT RAISE(ABORT, 'rows of entry are only ever added'); END;
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry
  BEGIN SELECT RAISE(ABORT, 'rows of entry are only ever added'); END;
CREATE TRIGGER reading_no_update BEFORE UPDATE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of reading are only ever added'); END;
CREATE TRIGGER reading_no_delete BEFORE DELETE ON reading
  BEGIN SELECT RAISE(ABORT, 'rows of reading are only ever added'); END;
INSERT INTO job (number, id) VALUES (1, '5e0c1f52-8d3f-4a57-9a0e-3b6f2f7d1c11');
INSERT INTO entry (seq, id, job, n, at, kind, fact, readings, here, more, crc) VALUES (1, '0b9b6c7e-1111-4c1e-8a01-000000000001', 1, 1, 1767000000000, 'job-begun', '{"kind":"job-begun","setup":{"name":"Needle case","wood":"boxwood","fit":"threaded","pitch":{"lengthMm":1.5875,"given":{"kind":"tpi","threads":16}},"starts":1,"cutter":{"name":"sharp 60","angleDeg":60,"tip":{"kind":"sharp"},"diameterMm":20,"topSpeed":4000},"depth":{"femaleMm":1,"maleMm":1},"bored":"lid","wantedMm":0.15,"bounds":{"runningFromMm":0.08,"looseFromMm":0.3},"unit":"mm","caliper":{"name":"bench caliper","limitOfErrorMm":0.03,"stepMm":0.01},"feed":{"name":"handle","perDetentMm":0.2,"lostDetents":1,"perDetentStandardMm":0.005},"hardens":true}}', 0, 1, NULL, 2900098910);
INSERT INTO entry (seq, id, job, n, at, kind, fact, readings, here, more, crc) VALUES (2, '0b9b6c7e-1111-4c1e-8a01-000000000002', 1, 2, 1767000001000, 'stage-entered', '{"kind":"stage-entered","stage":"bore size"}', 0, 1, NULL, 1938971001);
INSERT INTO entry (seq, id, job, n, at, kind, fact, readings, here, more, crc) VALUES (3, '0b9b6c7e-1111-4c1e-8a01-000000000003', 1, 3, 1767000002000, 'bore-taken', '{"kind":"bore-taken","diameterMm":24.61,"standardMm":0.009,"degreesOfFreedom":4,"tops":3,"agreeing":3,"spreadMm":0.01,"how":"rocked"}', 2, 1, NULL, 1014439888);
INSERT INTO entry (seq, id, job, n, at, kind, fact, readings, here, more, crc) VALUES (4, '0b9b6c7e-1111-4c1e-8a01-000000000004', 1, 4, 1767000003000, 'note-added', '{"kind":"note-added","text":"Tight grain, \"quoted\", müde;\ttab"}', 0, 1, '{"hand":"left"}', 2103264507);
INSERT INTO entry (seq, id, job, n, at, kind, fact, readings, here, more, crc) VALUES (5, '0b9b6c7e-1111-4c1e-8a01-000000000005', 1, 5, 1767000004000, 'wax-rubbed-in', '{"kind":"wax-rubbed-in","coats":2}', 0, 1, NULL, 77232909);
INSERT INTO reading (entry, n, text, unit, value, step, at, raw, more, crc) VALUES (3, 0, '24.58', 'mm', 24.58, 0.01, 5000, 'DI,0,5000,24.58,mm*0000', NULL, 3196330461);
INSERT INTO reading (entry, n, text, unit, value, step, at, raw, more, crc) VALUES (3, 1, '24.61', 'mm', 24.61, 0.01, 5125, 'DI,1,5125,24.61,mm*0000', NULL, 1579127672);
PRAGMA application_id = 1279870039;
PRAGMA user_version = 1;
