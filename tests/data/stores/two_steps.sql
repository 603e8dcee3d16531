PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE IF NOT EXISTS "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
) STRICT;
INSERT INTO _sqlite_migrations VALUES(1,'pmtrack','m001_description','2026-11-28 23:39:32.221599+00:00');
INSERT INTO _sqlite_migrations VALUES(2,'pmtrack','m002_facts','2026-11-28 23:39:32.259246+00:00');
CREATE TABLE store (
    id TEXT NOT NULL PRIMARY KEY,           -- a random UUID; calendar UIDs rest on it
    made_at TEXT NOT NULL,
    demo INTEGER NOT NULL CHECK (demo IN (0, 1))
) STRICT;
INSERT INTO store VALUES('3329eeb6-2618-4c90-882d-1349c30781af','2026-11-23T11:00:00Z',0);
CREATE TABLE applied (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    by TEXT NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition))  -- of the shop itself
) STRICT;
INSERT INTO applied VALUES(1,'2026-11-23T11:00:00Z','Dana','{"name":"Quillback Sheet Works","timezone":"America/New_York","shifts":[{"name":"day","weekdays":[0,1,2,3,4],"start":"06:00:00","end":"14:30:00"},{"name":"night","weekdays":[0,1,2,3],"start":"22:00:00","end":"06:00:00"}],"closed":[{"first":"2026-11-26","last":"2026-11-26","why":"holiday"},{"first":"2026-12-24","last":"2027-01-01","why":"winter shutdown"}],"crew_hours":"6","suppliers":[],"machines":[],"tasks":[],"materials":[],"tools":[],"programs":[]}');
CREATE TABLE supplier (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO supplier VALUES('press-service',0,'{"code":"press-service","name":"Outside press service","notice":21,"callout_cost":"450"}',NULL);
CREATE TABLE machine (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO machine VALUES('TP-1',0,'{"code":"TP-1","name":"Turret punch press","in_service":"2019-03-04","meters":[],"cautions":["Lock out and tag out before opening guards; see procedure LP-04."],"note":""}',NULL);
INSERT INTO machine VALUES('PB-1',1,'{"code":"PB-1","name":"Press brake","in_service":null,"meters":[],"cautions":[],"note":""}',NULL);
INSERT INTO machine VALUES('FE-1',2,'{"code":"FE-1","name":"Portable extinguishers","in_service":null,"meters":[],"cautions":[],"note":""}',NULL);
CREATE TABLE meter (
    machine TEXT NOT NULL REFERENCES machine (code),
    name TEXT NOT NULL,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT,
    PRIMARY KEY (machine, name)
) STRICT;
INSERT INTO meter VALUES('TP-1','hits',0,'{"name":"hits","fastest":{"amount":"120","per":"minute"},"expected":{"amount":"9000","per":"day"},"wraps_at":"10000000"}',NULL);
INSERT INTO meter VALUES('TP-1','hours',1,'{"name":"hours","fastest":null,"expected":{"amount":"11","per":"day"},"wraps_at":null}',NULL);
INSERT INTO meter VALUES('PB-1','cycles',2,'{"name":"cycles","fastest":{"amount":"20","per":"minute"},"expected":{"amount":"900","per":"day"},"wraps_at":null}',NULL);
CREATE TABLE task (
    name TEXT NOT NULL PRIMARY KEY,         -- machine/code
    machine TEXT NOT NULL REFERENCES machine (code),
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    first_applied TEXT NOT NULL,
    retired_on TEXT,
    raised_by INTEGER REFERENCES entry (id)  -- of a one-off job: the entry that raised it
) STRICT;
INSERT INTO task VALUES('TP-1/weekly','TP-1',0,'{"machine":"TP-1","code":"weekly","title":"Clean and lubricate","every":[{"amount":"1","unit":"week","text":"1 week"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-11-20","readings":{}},"grace":[],"lead":[],"minutes":20,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO task VALUES('PB-1/weekly','PB-1',1,'{"machine":"PB-1","code":"weekly","title":"Clean and lubricate","every":[{"amount":"1","unit":"week","text":"1 week"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-11-20","readings":{}},"grace":[],"lead":[],"minutes":20,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO task VALUES('TP-1/monthly','TP-1',2,'{"machine":"TP-1","code":"monthly","title":"Monthly in-house service","every":[{"amount":"1","unit":"month","text":"1 month"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-10-25","readings":{}},"grace":[],"lead":[],"minutes":90,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[{"text":"Drain the air filter.","measure":null,"unit":"","low":null,"high":null},{"text":"Pump pressure at idle","measure":"pump-pressure","unit":"bar","low":"150","high":"170"}],"parts":[{"name":"filter element","quantity":"1","unit":""},{"name":"Lint-free cloths","quantity":"1","unit":""}],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO task VALUES('TP-1/half-year','TP-1',3,'{"machine":"TP-1","code":"half-year","title":"Outside service, hydraulic fluid changed and machine greased","every":[{"amount":"6","unit":"month","text":"6 months"},{"amount":"2000","unit":"hours","text":"2000 hours"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-06-12","readings":{"hours":"0"}},"grace":[],"lead":[],"minutes":420,"crew":"press-service","covers":["monthly"],"authority":null,"machine_down":true,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO task VALUES('PB-1/belt','PB-1',4,'{"machine":"PB-1","code":"belt","title":"Drive belt inspected","every":[{"amount":"20000","unit":"cycles","text":"20000 cycles"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-11-02","readings":{"cycles":"0"}},"grace":[],"lead":[],"minutes":30,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO task VALUES('FE-1/look','FE-1',5,'{"machine":"FE-1","code":"look","title":"Portable extinguishers, monthly visual check","every":[],"on":{"rule":"FREQ=MONTHLY;BYDAY=1MO"},"once":null,"starts":"2026-11-02","last_done":null,"grace":[],"lead":[],"minutes":15,"crew":null,"covers":[],"authority":"29 CFR 1910.157(e)(2)","machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO task VALUES('TP-1/job-9','TP-1',9,'{"machine":"TP-1","code":"job-9","title":"hose","every":[],"on":null,"once":{"due_on":"2026-12-02"},"starts":null,"last_done":null,"grace":[],"lead":[],"minutes":null,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-25',NULL,9);
CREATE TABLE material (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO material VALUES('mild',0,'{"code":"mild","wear":"1","thickness":"1"}',NULL);
INSERT INTO material VALUES('stainless',1,'{"code":"stainless","wear":"2","thickness":"1"}',NULL);
CREATE TABLE tool (
    code TEXT NOT NULL PRIMARY KEY,
    machine TEXT NOT NULL REFERENCES machine (code),
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO tool VALUES('RD-10','TP-1',0,'{"code":"RD-10","machine":"TP-1","sharpen_every":"60000","kind":"round punch","size":"10 mm","grind":"1/5","grindable":"3","replace_notice":10,"price":"85"}',NULL);
INSERT INTO tool VALUES('SQ-5','TP-1',1,'{"code":"SQ-5","machine":"TP-1","sharpen_every":"50000","kind":"","size":"","grind":"1/5","grindable":"2","replace_notice":null,"price":null}',NULL);
CREATE TABLE program (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO program VALUES('KIOSK-DOOR',0,'{"code":"KIOSK-DOOR","material":"mild","hits":{"RD-10":"14"}}',NULL);
CREATE TABLE entry (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('shift', 'dial', 'completion', 'deferral', 'job', 'stop',
        'restart', 'idle', 'back', 'tool-count', 'tool-event', 'void')),
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    day TEXT NOT NULL CHECK (day GLOB '????-??-??'),
    whole_day INTEGER NOT NULL CHECK (whole_day IN (0, 1)),
    by TEXT NOT NULL CHECK (by <> ''),
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '????-??-??T??:??:??Z'),
    note TEXT NOT NULL
) STRICT;
INSERT INTO entry VALUES(1,'shift','2026-11-24T19:30:00Z','2026-11-24',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(2,'shift','2026-11-25T19:30:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(3,'completion','2026-11-25T15:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','hose ½" chafed');
INSERT INTO entry VALUES(4,'stop','2026-11-25T18:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(5,'idle','2026-11-25T13:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(6,'tool-event','2026-11-24T11:00:00Z','2026-11-24',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(7,'shift','2026-11-25T19:30:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(8,'void','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(9,'job','2026-11-25T15:05:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(10,'completion','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(11,'completion','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(12,'deferral','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(13,'restart','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(14,'tool-count','2026-11-25T17:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(15,'tool-event','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO entry VALUES(16,'back','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
CREATE TABLE void (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    target INTEGER NOT NULL UNIQUE REFERENCES entry (id),
    why TEXT NOT NULL CHECK (why <> ''),
    CHECK (target < entry)
) STRICT;
INSERT INTO void VALUES(8,7,'twice');
CREATE TABLE shift_log (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    shift TEXT NOT NULL,
    day TEXT NOT NULL,
    parts INTEGER CHECK (parts >= 0),
    scrap INTEGER CHECK (scrap >= 0),
    program TEXT REFERENCES program (code),
    material TEXT REFERENCES material (code),
    confirmed INTEGER NOT NULL CHECK (confirmed IN (0, 1))
) STRICT;
INSERT INTO shift_log VALUES(1,'TP-1','day','2026-11-24',310000000,4000000,NULL,NULL,0);
INSERT INTO shift_log VALUES(2,'TP-1','day','2026-11-25',NULL,NULL,NULL,NULL,0);
INSERT INTO shift_log VALUES(7,'PB-1','day','2026-11-25',NULL,NULL,NULL,NULL,0);
CREATE TABLE count (
    entry INTEGER NOT NULL REFERENCES shift_log (entry),
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    amount INTEGER NOT NULL CHECK (amount >= 0),
    PRIMARY KEY (entry, meter),
    FOREIGN KEY (machine, meter) REFERENCES meter (machine, name)
) STRICT;
INSERT INTO count VALUES(1,'TP-1','hits',41200000000);
INSERT INTO count VALUES(7,'PB-1','cycles',310000000);
CREATE TABLE dial (
    entry INTEGER NOT NULL REFERENCES entry (id),
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    day TEXT NOT NULL CHECK (day GLOB '????-??-??'),
    reading INTEGER NOT NULL CHECK (reading >= 0),
    wrapped INTEGER NOT NULL CHECK (wrapped IN (0, 1)),
    exchanged INTEGER NOT NULL CHECK (exchanged IN (0, 1)),
    PRIMARY KEY (entry, meter),
    FOREIGN KEY (machine, meter) REFERENCES meter (machine, name),
    CHECK (wrapped + exchanged < 2)
) STRICT;
INSERT INTO dial VALUES(2,'TP-1','hits','2026-11-25T19:30:00Z','2026-11-25',1204350000000,0,0);
CREATE TABLE completion (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    at TEXT NOT NULL,
    minutes INTEGER CHECK (minutes >= 0)
) STRICT;
INSERT INTO completion VALUES(3,'TP-1/weekly','2026-11-25T15:00:00Z',25);
INSERT INTO completion VALUES(10,'TP-1/job-9','2026-11-25T19:45:00Z',NULL);
INSERT INTO completion VALUES(11,'TP-1/monthly','2026-11-25T19:45:00Z',NULL);
CREATE TABLE measurement (
    entry INTEGER NOT NULL REFERENCES completion (entry),
    name TEXT NOT NULL,
    value INTEGER NOT NULL,
    in_limits INTEGER NOT NULL CHECK (in_limits IN (0, 1)),
    PRIMARY KEY (entry, name)
) STRICT;
INSERT INTO measurement VALUES(11,'pump-pressure',160500000,1);
CREATE TABLE deferral (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    at TEXT NOT NULL,
    until TEXT NOT NULL CHECK (until GLOB '????-??-??'),
    why TEXT NOT NULL CHECK (why <> '')
) STRICT;
INSERT INTO deferral VALUES(12,'PB-1/weekly','2026-11-25T19:45:00Z','2026-12-04','rush');
CREATE TABLE job (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    title TEXT NOT NULL CHECK (title <> ''),
    found_in INTEGER REFERENCES completion (entry)
) STRICT;
INSERT INTO job VALUES(9,'TP-1','hose',3);
CREATE TABLE stop (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    started TEXT NOT NULL,
    ended TEXT,
    planned INTEGER NOT NULL CHECK (planned IN (0, 1)),
    cause TEXT NOT NULL CHECK (cause <> ''),
    CHECK (ended IS NULL OR ended > started)
) STRICT;
INSERT INTO stop VALUES(4,'PB-1','2026-11-25T18:00:00Z',NULL,0,'gauge');
CREATE TABLE restart (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    at TEXT NOT NULL
) STRICT;
INSERT INTO restart VALUES(13,'PB-1','2026-11-25T19:45:00Z');
CREATE TABLE service_change (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    at TEXT NOT NULL,
    day TEXT NOT NULL,
    out INTEGER NOT NULL CHECK (out IN (0, 1)),  -- 1: taken out of service, 0: back
    why TEXT NOT NULL
) STRICT;
INSERT INTO service_change VALUES(5,'FE-1','2026-11-25T13:00:00Z','2026-11-25',1,'cleared');
INSERT INTO service_change VALUES(16,'FE-1','2026-11-25T19:45:00Z','2026-11-25',0,'');
CREATE TABLE tool_count (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    tool TEXT NOT NULL REFERENCES tool (code),
    hits INTEGER NOT NULL CHECK (hits >= 0),
    material TEXT REFERENCES material (code)
) STRICT;
INSERT INTO tool_count VALUES(14,'RD-10',9000250000,NULL);
CREATE TABLE tool_event (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    tool TEXT NOT NULL REFERENCES tool (code),
    event TEXT NOT NULL CHECK (event IN ('sharpen', 'fit', 'takeout', 'replace', 'scrap')),
    mm INTEGER CHECK (mm > 0),
    why TEXT CHECK (why IN ('planned', 'burr', 'chipped')),
    machine TEXT REFERENCES machine (code),
    station TEXT,
    CHECK ((event = 'sharpen') = (mm IS NOT NULL)),
    CHECK ((event = 'fit') = (station IS NOT NULL))
) STRICT;
INSERT INTO tool_event VALUES(6,'RD-10','fit',NULL,NULL,'TP-1','T12');
INSERT INTO tool_event VALUES(15,'RD-10','sharpen',200000,'planned',NULL,NULL);
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE INDEX shift_log_machine_day ON shift_log (machine, day, shift);
CREATE INDEX shift_log_program ON shift_log (program, day) WHERE program IS NOT NULL;
CREATE INDEX completion_task ON completion (task, at);
CREATE INDEX deferral_task ON deferral (task, at);
CREATE INDEX stop_machine ON stop (machine, started);
CREATE INDEX restart_machine ON restart (machine, at);
CREATE INDEX service_change_machine ON service_change (machine, at);
CREATE INDEX tool_count_tool ON tool_count (tool);
CREATE INDEX tool_event_tool ON tool_event (tool);
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER void_no_update BEFORE UPDATE ON void BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER void_no_delete BEFORE DELETE ON void BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER shift_log_no_update BEFORE UPDATE ON shift_log BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER shift_log_no_delete BEFORE DELETE ON shift_log BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER count_no_update BEFORE UPDATE ON count BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER count_no_delete BEFORE DELETE ON count BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER dial_no_update BEFORE UPDATE ON dial BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER dial_no_delete BEFORE DELETE ON dial BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER completion_no_update BEFORE UPDATE ON completion BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER completion_no_delete BEFORE DELETE ON completion BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER measurement_no_update BEFORE UPDATE ON measurement BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER measurement_no_delete BEFORE DELETE ON measurement BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER deferral_no_update BEFORE UPDATE ON deferral BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER deferral_no_delete BEFORE DELETE ON deferral BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER job_no_update BEFORE UPDATE ON job BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER job_no_delete BEFORE DELETE ON job BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER stop_no_update BEFORE UPDATE ON stop BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER stop_no_delete BEFORE DELETE ON stop BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER restart_no_update BEFORE UPDATE ON restart BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER restart_no_delete BEFORE DELETE ON restart BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER service_change_no_update BEFORE UPDATE ON service_change BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER service_change_no_delete BEFORE DELETE ON service_change BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER tool_count_no_update BEFORE UPDATE ON tool_count BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER tool_count_no_delete BEFORE DELETE ON tool_count BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER tool_event_no_update BEFORE UPDATE ON tool_event BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER tool_event_no_delete BEFORE DELETE ON tool_event BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
COMMIT;
