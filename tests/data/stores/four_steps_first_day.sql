PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE IF NOT EXISTS "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
) STRICT;
INSERT INTO _sqlite_migrations VALUES(1,'pmtrack','m001_description','2026-11-28 23:37:02.549266+00:00');
INSERT INTO _sqlite_migrations VALUES(2,'pmtrack','m002_facts','2026-11-28 23:37:02.569720+00:00');
INSERT INTO _sqlite_migrations VALUES(3,'pmtrack','m003_derived','2026-11-28 23:37:02.570450+00:00');
INSERT INTO _sqlite_migrations VALUES(4,'pmtrack','m004_exports','2026-11-28 23:37:02.571270+00:00');
CREATE TABLE store (
    id TEXT NOT NULL PRIMARY KEY,           -- a random UUID; calendar UIDs rest on it
    made_at TEXT NOT NULL,
    demo INTEGER NOT NULL CHECK (demo IN (0, 1))
) STRICT;
INSERT INTO store VALUES('a2915c9e-1e78-4d89-b18b-26d4d999f5ae','2026-11-23T11:00:00Z',0);
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
CREATE TABLE tally (
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    at TEXT NOT NULL,
    is_dial INTEGER NOT NULL,
    entry INTEGER NOT NULL,
    day TEXT NOT NULL,
    value INTEGER NOT NULL,
    wrapped INTEGER NOT NULL,
    exchanged INTEGER NOT NULL,
    usage INTEGER NOT NULL,                 -- since the level before the first entry
    shift INTEGER,                          -- added to a dial reading gives usage
    level INTEGER NOT NULL,                 -- usage before the first entry
    counted INTEGER NOT NULL,               -- a count came since the last dial
    unlogged INTEGER NOT NULL,
    PRIMARY KEY (machine, meter, at, is_dial, entry)
) STRICT, WITHOUT ROWID;
INSERT INTO tally VALUES('TP-1','hits','2026-11-24T19:30:00Z',0,1,'2026-11-24',41200000000,0,0,41200000000,NULL,0,1,0);
INSERT INTO tally VALUES('TP-1','hits','2026-11-25T19:30:00Z',1,2,'2026-11-25',1204350000000,0,0,41200000000,-1163150000000,1163150000000,0,0);
CREATE TABLE export (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    period TEXT NOT NULL
) STRICT;
INSERT INTO export VALUES(1,'2026-11-25T19:45:00Z','2027-Q1');
CREATE TABLE export_event (
    export INTEGER NOT NULL REFERENCES export (id),
    uid TEXT NOT NULL,
    task TEXT NOT NULL,
    sequence INTEGER NOT NULL CHECK (sequence >= 0),
    stamp TEXT NOT NULL,
    cancelled INTEGER NOT NULL CHECK (cancelled IN (0, 1)),
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    PRIMARY KEY (export, uid)
) STRICT;
INSERT INTO export_event VALUES(1,'d71317b4-4b5e-5366-b8c8-65e14106254c','FE-1/look',0,'2026-11-25T19:45:00Z',0,'{"uid":"d71317b4-4b5e-5366-b8c8-65e14106254c","task":"FE-1/look","day":"2027-01-04","due_on":"2027-01-04","summary":"FE-1: Portable extinguishers, monthly visual check","text":"FE-1 Portable extinguishers: Portable extinguishers, monthly visual check\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-04: every month on the first Monday, since 2026-12-07 (planned for 2026-12-07).\n\nJOB\nTask: FE-1/look\nTime: 15 min\nCrew: in-house\nRequired by: 29 CFR 1910.157(e)(2)","reminder_days":2,"categories":["FE-1","In-house"]}');
INSERT INTO export_event VALUES(1,'155ab48c-cb0e-5e39-bc3f-73beb6d15c9a','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"155ab48c-cb0e-5e39-bc3f-73beb6d15c9a","task":"PB-1/weekly","day":"2027-01-04","due_on":"2026-12-30","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'7fb50828-7105-5b83-b615-5758e311d1bd','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"7fb50828-7105-5b83-b615-5758e311d1bd","task":"TP-1/weekly","day":"2027-01-04","due_on":"2026-12-30","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'a5125074-86af-57a2-aab8-02235e643b6e','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"a5125074-86af-57a2-aab8-02235e643b6e","task":"PB-1/weekly","day":"2027-01-11","due_on":"2027-01-11","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'9abce72e-85d4-5b2b-a52d-ad7b60577ff1','TP-1/monthly',0,'2026-11-25T19:45:00Z',0,'{"uid":"9abce72e-85d4-5b2b-a52d-ad7b60577ff1","task":"TP-1/monthly","day":"2027-01-11","due_on":"2027-01-11","summary":"TP-1: Monthly in-house service","text":"TP-1 Turret punch press: Monthly in-house service\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-11: every 1 month, since 2026-12-11 (planned for 2026-12-11).\n\nJOB\nTask: TP-1/monthly\nTime: 90 min\nCrew: in-house\n\nSTEPS\n1. Drain the air filter.\n2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)\n\nBRING\n- filter element\n- Lint-free cloths","reminder_days":3,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'77753037-fb84-58f8-88f2-63e664133958','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"77753037-fb84-58f8-88f2-63e664133958","task":"TP-1/weekly","day":"2027-01-11","due_on":"2027-01-11","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'7ea58c65-df8c-5418-b5cf-4b48560da1a1','PB-1/belt',0,'2026-11-25T19:45:00Z',0,'{"uid":"7ea58c65-df8c-5418-b5cf-4b48560da1a1","task":"PB-1/belt","day":"2027-01-15","due_on":"2027-01-15","summary":"PB-1: Drive belt inspected","text":"PB-1 Press brake: Drive belt inspected\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Fri 2027-01-15: every 20000 cycles, since 2026-12-04 (planned for 2026-12-04).\nExpected by usage: 25,400 cycles.\n\nJOB\nTask: PB-1/belt\nTime: 30 min\nCrew: in-house","reminder_days":7,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'d99ab8d7-4298-5a8f-bbc5-5f397278c180','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"d99ab8d7-4298-5a8f-bbc5-5f397278c180","task":"PB-1/weekly","day":"2027-01-18","due_on":"2027-01-18","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'1fdc391e-721f-5ce0-a3f0-f3f9f00a285c','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"1fdc391e-721f-5ce0-a3f0-f3f9f00a285c","task":"TP-1/weekly","day":"2027-01-18","due_on":"2027-01-18","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'f6f24ace-7671-5cab-908c-1bb0c346caef','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"f6f24ace-7671-5cab-908c-1bb0c346caef","task":"PB-1/weekly","day":"2027-01-25","due_on":"2027-01-25","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'61060681-3287-5670-a0b2-60b1564e470b','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"61060681-3287-5670-a0b2-60b1564e470b","task":"TP-1/weekly","day":"2027-01-25","due_on":"2027-01-25","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'17c05b76-cf4d-58a4-93bb-85b53af07e60','FE-1/look',0,'2026-11-25T19:45:00Z',0,'{"uid":"17c05b76-cf4d-58a4-93bb-85b53af07e60","task":"FE-1/look","day":"2027-02-01","due_on":"2027-02-01","summary":"FE-1: Portable extinguishers, monthly visual check","text":"FE-1 Portable extinguishers: Portable extinguishers, monthly visual check\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-01: every month on the first Monday, since 2027-01-04 (planned for 2027-01-04).\n\nJOB\nTask: FE-1/look\nTime: 15 min\nCrew: in-house\nRequired by: 29 CFR 1910.157(e)(2)","reminder_days":2,"categories":["FE-1","In-house"]}');
INSERT INTO export_event VALUES(1,'ed9bd6e2-79a7-5238-873d-3eb78159f31c','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"ed9bd6e2-79a7-5238-873d-3eb78159f31c","task":"PB-1/weekly","day":"2027-02-01","due_on":"2027-02-01","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'b93196c5-ecba-5e83-b1b9-3c8f899937c9','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"b93196c5-ecba-5e83-b1b9-3c8f899937c9","task":"TP-1/weekly","day":"2027-02-01","due_on":"2027-02-01","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'8ac2df3c-974a-5442-938d-960a96005082','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"8ac2df3c-974a-5442-938d-960a96005082","task":"PB-1/weekly","day":"2027-02-08","due_on":"2027-02-08","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'4fd57c95-0354-571b-aa80-c86865a15be7','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"4fd57c95-0354-571b-aa80-c86865a15be7","task":"TP-1/weekly","day":"2027-02-08","due_on":"2027-02-08","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'587bdbb5-58e1-5822-91e6-ba50993ee541','TP-1/monthly',0,'2026-11-25T19:45:00Z',0,'{"uid":"587bdbb5-58e1-5822-91e6-ba50993ee541","task":"TP-1/monthly","day":"2027-02-11","due_on":"2027-02-11","summary":"TP-1: Monthly in-house service","text":"TP-1 Turret punch press: Monthly in-house service\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Thu 2027-02-11: every 1 month, since 2027-01-11 (planned for 2027-01-11).\n\nJOB\nTask: TP-1/monthly\nTime: 90 min\nCrew: in-house\n\nSTEPS\n1. Drain the air filter.\n2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)\n\nBRING\n- filter element\n- Lint-free cloths","reminder_days":3,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'48976564-d751-5a3b-8cc4-092ba368d5ce','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"48976564-d751-5a3b-8cc4-092ba368d5ce","task":"PB-1/weekly","day":"2027-02-15","due_on":"2027-02-15","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'aad5650f-aa8b-5469-9e1b-a399ef1f8892','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"aad5650f-aa8b-5469-9e1b-a399ef1f8892","task":"TP-1/weekly","day":"2027-02-15","due_on":"2027-02-15","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'59062f53-9e00-55c5-8874-f977c4c2d342','PB-1/belt',0,'2026-11-25T19:45:00Z',0,'{"uid":"59062f53-9e00-55c5-8874-f977c4c2d342","task":"PB-1/belt","day":"2027-02-17","due_on":"2027-02-17","summary":"PB-1: Drive belt inspected","text":"PB-1 Press brake: Drive belt inspected\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Wed 2027-02-17: every 20000 cycles, since 2027-01-15 (planned for 2027-01-15).\nExpected by usage: 46,100 cycles.\n\nJOB\nTask: PB-1/belt\nTime: 30 min\nCrew: in-house","reminder_days":7,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'98a7537a-6dfc-5c17-bdf7-26082c93aae1','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"98a7537a-6dfc-5c17-bdf7-26082c93aae1","task":"PB-1/weekly","day":"2027-02-22","due_on":"2027-02-22","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'dfafd4c2-12c8-5c50-b5f3-c58dca4d5147','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"dfafd4c2-12c8-5c50-b5f3-c58dca4d5147","task":"TP-1/weekly","day":"2027-02-22","due_on":"2027-02-22","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'c662afc9-c8ce-538d-b993-a912d51707cf','FE-1/look',0,'2026-11-25T19:45:00Z',0,'{"uid":"c662afc9-c8ce-538d-b993-a912d51707cf","task":"FE-1/look","day":"2027-03-01","due_on":"2027-03-01","summary":"FE-1: Portable extinguishers, monthly visual check","text":"FE-1 Portable extinguishers: Portable extinguishers, monthly visual check\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-01: every month on the first Monday, since 2027-02-01 (planned for 2027-02-01).\n\nJOB\nTask: FE-1/look\nTime: 15 min\nCrew: in-house\nRequired by: 29 CFR 1910.157(e)(2)","reminder_days":2,"categories":["FE-1","In-house"]}');
INSERT INTO export_event VALUES(1,'5b977c26-fd3e-5953-a655-a8185d2ae30e','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"5b977c26-fd3e-5953-a655-a8185d2ae30e","task":"PB-1/weekly","day":"2027-03-01","due_on":"2027-03-01","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'45806eb9-84ef-52a6-ae06-8df7e3037e07','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"45806eb9-84ef-52a6-ae06-8df7e3037e07","task":"TP-1/weekly","day":"2027-03-01","due_on":"2027-03-01","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'082ae70f-cdfb-52a5-82b4-147170aba8f4','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"082ae70f-cdfb-52a5-82b4-147170aba8f4","task":"PB-1/weekly","day":"2027-03-08","due_on":"2027-03-08","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'21e1bb09-c407-5d1a-aad8-0e994e275be7','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"21e1bb09-c407-5d1a-aad8-0e994e275be7","task":"TP-1/weekly","day":"2027-03-08","due_on":"2027-03-08","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'bc424318-b2ab-5886-9979-93ef80d4a775','TP-1/monthly',0,'2026-11-25T19:45:00Z',0,'{"uid":"bc424318-b2ab-5886-9979-93ef80d4a775","task":"TP-1/monthly","day":"2027-03-11","due_on":"2027-03-11","summary":"TP-1: Monthly in-house service","text":"TP-1 Turret punch press: Monthly in-house service\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Thu 2027-03-11: every 1 month, since 2027-02-11 (planned for 2027-02-11).\n\nJOB\nTask: TP-1/monthly\nTime: 90 min\nCrew: in-house\n\nSTEPS\n1. Drain the air filter.\n2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)\n\nBRING\n- filter element\n- Lint-free cloths","reminder_days":2,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'ba5fa0d5-f2bf-5a97-8840-0b53526407d4','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"ba5fa0d5-f2bf-5a97-8840-0b53526407d4","task":"PB-1/weekly","day":"2027-03-15","due_on":"2027-03-15","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'17600cae-9f51-5312-9d58-9561eac3a47e','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"17600cae-9f51-5312-9d58-9561eac3a47e","task":"TP-1/weekly","day":"2027-03-15","due_on":"2027-03-15","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'ff5928d1-7809-5816-9165-a0b4f56f6a1e','PB-1/belt',0,'2026-11-25T19:45:00Z',0,'{"uid":"ff5928d1-7809-5816-9165-a0b4f56f6a1e","task":"PB-1/belt","day":"2027-03-22","due_on":"2027-03-22","summary":"PB-1: Drive belt inspected","text":"PB-1 Press brake: Drive belt inspected\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-22: every 20000 cycles, since 2027-02-17 (planned for 2027-02-17).\nExpected by usage: 66,800 cycles.\n\nJOB\nTask: PB-1/belt\nTime: 30 min\nCrew: in-house","reminder_days":7,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'9a0b2b58-d8a8-5354-b743-1b947ccd7c7e','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"9a0b2b58-d8a8-5354-b743-1b947ccd7c7e","task":"PB-1/weekly","day":"2027-03-22","due_on":"2027-03-22","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'93f8bcaf-6088-5cb0-873e-14596398979b','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"93f8bcaf-6088-5cb0-873e-14596398979b","task":"TP-1/weekly","day":"2027-03-22","due_on":"2027-03-22","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
INSERT INTO export_event VALUES(1,'0310b7a5-3d3c-5adc-828a-f87c50a58129','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"0310b7a5-3d3c-5adc-828a-f87c50a58129","task":"PB-1/weekly","day":"2027-03-29","due_on":"2027-03-29","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"]}');
INSERT INTO export_event VALUES(1,'a7d3203e-d986-5b08-b199-3adecca1510c','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"a7d3203e-d986-5b08-b199-3adecca1510c","task":"TP-1/weekly","day":"2027-03-29","due_on":"2027-03-29","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"]}');
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
CREATE INDEX export_event_uid ON export_event (uid, export);
COMMIT;
