PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE IF NOT EXISTS "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
) STRICT;
INSERT INTO _sqlite_migrations VALUES(1,'pmtrack','m001_description','2026-11-28 23:39:32.065425+00:00');
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
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
COMMIT;
