PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
) STRICT;
INSERT INTO "_sqlite_migrations" VALUES(1,'pmtrack','m001_description','2026-11-28 23:36:19.107505+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'pmtrack','m002_facts','2026-11-28 23:36:19.118683+00:00');
INSERT INTO "_sqlite_migrations" VALUES(3,'pmtrack','m003_derived','2026-11-28 23:36:19.119105+00:00');
INSERT INTO "_sqlite_migrations" VALUES(4,'pmtrack','m004_exports','2026-11-28 23:36:19.119531+00:00');
INSERT INTO "_sqlite_migrations" VALUES(5,'pmtrack','m005_plans','2026-11-28 23:36:19.131411+00:00');
INSERT INTO "_sqlite_migrations" VALUES(6,'pmtrack','m006_lengths','2026-11-29 14:26:07.601169+00:00');
INSERT INTO "_sqlite_migrations" VALUES(7,'pmtrack','m007_rhythm','2026-11-29 14:26:07.601861+00:00');
CREATE TABLE applied (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    by TEXT NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition))  -- of the shop itself
) STRICT;
INSERT INTO "applied" VALUES(1,'2026-11-23T11:00:00Z','Dana','{"name":"Quillback Sheet Works","timezone":"America/New_York","shifts":[{"name":"day","weekdays":[0,1,2,3,4],"start":"06:00:00","end":"14:30:00"},{"name":"night","weekdays":[0,1,2,3],"start":"22:00:00","end":"06:00:00"}],"closed":[{"first":"2026-11-26","last":"2026-11-26","why":"holiday"},{"first":"2026-12-24","last":"2027-01-01","why":"winter shutdown"}],"crew_hours":"6","suppliers":[],"machines":[],"tasks":[],"materials":[],"tools":[],"programs":[]}');
CREATE TABLE completion (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    at TEXT NOT NULL,
    minutes INTEGER CHECK (minutes >= 0)
) STRICT;
INSERT INTO "completion" VALUES(3,'TP-1/weekly','2026-11-25T15:00:00Z',25);
INSERT INTO "completion" VALUES(10,'TP-1/job-9','2026-11-25T19:45:00Z',NULL);
INSERT INTO "completion" VALUES(11,'TP-1/monthly','2026-11-25T19:45:00Z',NULL);
CREATE TABLE count (
    entry INTEGER NOT NULL REFERENCES shift_log (entry),
    machine TEXT NOT NULL,
    meter TEXT NOT NULL,
    amount INTEGER NOT NULL CHECK (amount >= 0),
    PRIMARY KEY (entry, meter),
    FOREIGN KEY (machine, meter) REFERENCES meter (machine, name)
) STRICT;
INSERT INTO "count" VALUES(1,'TP-1','hits',41200000000);
INSERT INTO "count" VALUES(7,'PB-1','cycles',310000000);
CREATE TABLE deferral (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    at TEXT NOT NULL,
    until TEXT NOT NULL CHECK (until GLOB '????-??-??'),
    why TEXT NOT NULL CHECK (why <> '')
) STRICT;
INSERT INTO "deferral" VALUES(12,'PB-1/weekly','2026-11-25T19:45:00Z','2026-12-04','rush');
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
INSERT INTO "dial" VALUES(2,'TP-1','hits','2026-11-25T19:30:00Z','2026-11-25',1204350000000,0,0);
CREATE TABLE "entry" (
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL CHECK (kind IN ('shift', 'dial', 'completion', 'deferral', 'job', 'stop',
        'restart', 'idle', 'back', 'tool-count', 'tool-event', 'void', 'pin', 'release')),
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    day TEXT NOT NULL CHECK (day GLOB '????-??-??'),
    whole_day INTEGER NOT NULL CHECK (whole_day IN (0, 1)),
    by TEXT NOT NULL CHECK (by <> ''),
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '????-??-??T??:??:??Z'),
    note TEXT NOT NULL
) STRICT;
INSERT INTO "entry" VALUES(1,'shift','2026-11-24T19:30:00Z','2026-11-24',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(2,'shift','2026-11-25T19:30:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(3,'completion','2026-11-25T15:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','hose ½" chafed');
INSERT INTO "entry" VALUES(4,'stop','2026-11-25T18:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(5,'idle','2026-11-25T13:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(6,'tool-event','2026-11-24T11:00:00Z','2026-11-24',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(7,'shift','2026-11-25T19:30:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(8,'void','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(9,'job','2026-11-25T15:05:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(10,'completion','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(11,'completion','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(12,'deferral','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(13,'restart','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(14,'tool-count','2026-11-25T17:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(15,'tool-event','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(16,'back','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(17,'pin','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(18,'pin','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(19,'release','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(20,'tool-event','2026-11-25T19:45:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(21,'stop','2026-11-25T14:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(22,'restart','2026-11-25T14:40:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
INSERT INTO "entry" VALUES(23,'stop','2026-11-25T15:00:00Z','2026-11-25',0,'Dana','2026-11-25T19:45:00Z','');
CREATE TABLE export (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    period TEXT NOT NULL
) STRICT;
INSERT INTO "export" VALUES(1,'2026-11-25T19:45:00Z','2027-Q1');
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
INSERT INTO "export_event" VALUES(1,'68b422e1-e33b-51d4-b090-f0adc1b1c307','FE-1/look',0,'2026-11-25T19:45:00Z',0,'{"uid":"68b422e1-e33b-51d4-b090-f0adc1b1c307","task":"FE-1/look","day":"2027-01-04","due_on":"2027-01-04","summary":"FE-1: Portable extinguishers, monthly visual check","text":"FE-1 Portable extinguishers: Portable extinguishers, monthly visual check\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-04: every month on the first Monday, since 2026-12-07 (planned for 2026-12-07).\n\nJOB\nTask: FE-1/look\nTime: 15 min\nCrew: in-house\nDemanded by: 29 CFR 1910.157(e)(2)","reminder_days":2,"categories":["FE-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'52e48b65-4d25-5b67-bbce-5a51ba3113fd','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"52e48b65-4d25-5b67-bbce-5a51ba3113fd","task":"PB-1/weekly","day":"2027-01-04","due_on":"2026-12-30","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'35d0ebdd-b086-56d9-bcfa-b6b86b7458bf','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"35d0ebdd-b086-56d9-bcfa-b6b86b7458bf","task":"TP-1/weekly","day":"2027-01-04","due_on":"2026-12-30","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'d118ee24-41f4-5a8e-ba74-4662da022aff','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"d118ee24-41f4-5a8e-ba74-4662da022aff","task":"PB-1/weekly","day":"2027-01-11","due_on":"2027-01-11","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'ea4d7f05-dfa5-5b16-b966-45168dec4e9e','TP-1/monthly',0,'2026-11-25T19:45:00Z',0,'{"uid":"ea4d7f05-dfa5-5b16-b966-45168dec4e9e","task":"TP-1/monthly","day":"2027-01-11","due_on":"2027-01-11","summary":"TP-1: Monthly in-house service","text":"TP-1 Turret punch press: Monthly in-house service\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-11: every 1 month, since 2026-12-11 (planned for 2026-12-11).\n\nJOB\nTask: TP-1/monthly\nTime: 90 min\nCrew: in-house\n\nSTEPS\n1. Drain the air filter.\n2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)\n\nBRING\n- filter element\n- Lint-free cloths","reminder_days":3,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'e41932ae-ba2e-596d-8c1f-c8917fb90388','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"e41932ae-ba2e-596d-8c1f-c8917fb90388","task":"TP-1/weekly","day":"2027-01-11","due_on":"2027-01-11","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'71cbf673-7e8f-5144-84ca-b61a6e489c2a','PB-1/belt',0,'2026-11-25T19:45:00Z',0,'{"uid":"71cbf673-7e8f-5144-84ca-b61a6e489c2a","task":"PB-1/belt","day":"2027-01-15","due_on":"2027-01-15","summary":"PB-1: Drive belt inspected","text":"PB-1 Press brake: Drive belt inspected\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Fri 2027-01-15: every 20000 cycles, since 2026-12-04 (planned for 2026-12-04).\nExpected by usage: 25,400 cycles.\n\nJOB\nTask: PB-1/belt\nTime: 30 min\nCrew: in-house","reminder_days":7,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'dfec3a03-236e-5d32-ae25-03095e7309be','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"dfec3a03-236e-5d32-ae25-03095e7309be","task":"PB-1/weekly","day":"2027-01-18","due_on":"2027-01-18","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'9a54387c-ff42-584f-b38c-d14d90bdc501','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"9a54387c-ff42-584f-b38c-d14d90bdc501","task":"TP-1/weekly","day":"2027-01-18","due_on":"2027-01-18","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'b90ac498-5b8d-5595-b0b7-4343ee53d4ba','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"b90ac498-5b8d-5595-b0b7-4343ee53d4ba","task":"PB-1/weekly","day":"2027-01-25","due_on":"2027-01-25","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'a595a0cb-6731-5d18-b3e1-4797e4c52a62','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"a595a0cb-6731-5d18-b3e1-4797e4c52a62","task":"TP-1/weekly","day":"2027-01-25","due_on":"2027-01-25","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'6067091e-b38e-5bc2-81d6-67c2072786a6','FE-1/look',0,'2026-11-25T19:45:00Z',0,'{"uid":"6067091e-b38e-5bc2-81d6-67c2072786a6","task":"FE-1/look","day":"2027-02-01","due_on":"2027-02-01","summary":"FE-1: Portable extinguishers, monthly visual check","text":"FE-1 Portable extinguishers: Portable extinguishers, monthly visual check\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-01: every month on the first Monday, since 2027-01-04 (planned for 2027-01-04).\n\nJOB\nTask: FE-1/look\nTime: 15 min\nCrew: in-house\nDemanded by: 29 CFR 1910.157(e)(2)","reminder_days":2,"categories":["FE-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'435455e5-52af-5655-8202-39976736845e','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"435455e5-52af-5655-8202-39976736845e","task":"PB-1/weekly","day":"2027-02-01","due_on":"2027-02-01","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'6cb5084d-9b3b-52f9-a3e2-1cc88feb5418','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"6cb5084d-9b3b-52f9-a3e2-1cc88feb5418","task":"TP-1/weekly","day":"2027-02-01","due_on":"2027-02-01","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'9a5e0791-7ded-5fba-9ec6-627cc7ed3b3b','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"9a5e0791-7ded-5fba-9ec6-627cc7ed3b3b","task":"PB-1/weekly","day":"2027-02-08","due_on":"2027-02-08","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'3ffafdd8-ad0f-5ca4-a2c1-980192ea6764','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"3ffafdd8-ad0f-5ca4-a2c1-980192ea6764","task":"TP-1/weekly","day":"2027-02-08","due_on":"2027-02-08","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'04c622e9-6e15-572e-812e-2bdef679e5f1','TP-1/monthly',0,'2026-11-25T19:45:00Z',0,'{"uid":"04c622e9-6e15-572e-812e-2bdef679e5f1","task":"TP-1/monthly","day":"2027-02-11","due_on":"2027-02-11","summary":"TP-1: Monthly in-house service","text":"TP-1 Turret punch press: Monthly in-house service\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Thu 2027-02-11: every 1 month, since 2027-01-11 (planned for 2027-01-11).\n\nJOB\nTask: TP-1/monthly\nTime: 90 min\nCrew: in-house\n\nSTEPS\n1. Drain the air filter.\n2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)\n\nBRING\n- filter element\n- Lint-free cloths","reminder_days":3,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'6c1c864f-0ff3-5618-8c16-fce0ea29f303','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"6c1c864f-0ff3-5618-8c16-fce0ea29f303","task":"PB-1/weekly","day":"2027-02-15","due_on":"2027-02-15","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'b6fd006b-192f-52e3-95e4-27c93b8acdff','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"b6fd006b-192f-52e3-95e4-27c93b8acdff","task":"TP-1/weekly","day":"2027-02-15","due_on":"2027-02-15","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'f50bac34-74f1-5a1e-ae3c-13d419a9d9b1','PB-1/belt',0,'2026-11-25T19:45:00Z',0,'{"uid":"f50bac34-74f1-5a1e-ae3c-13d419a9d9b1","task":"PB-1/belt","day":"2027-02-17","due_on":"2027-02-17","summary":"PB-1: Drive belt inspected","text":"PB-1 Press brake: Drive belt inspected\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Wed 2027-02-17: every 20000 cycles, since 2027-01-15 (planned for 2027-01-15).\nExpected by usage: 46,100 cycles.\n\nJOB\nTask: PB-1/belt\nTime: 30 min\nCrew: in-house","reminder_days":7,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'9786bf80-a506-5629-98d3-8ff424234ca9','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"9786bf80-a506-5629-98d3-8ff424234ca9","task":"PB-1/weekly","day":"2027-02-22","due_on":"2027-02-22","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'2d068a10-384a-5b03-ba1e-90e1f0a3ad41','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"2d068a10-384a-5b03-ba1e-90e1f0a3ad41","task":"TP-1/weekly","day":"2027-02-22","due_on":"2027-02-22","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'34b08a00-c0c2-5916-8738-ec3562f3fa63','FE-1/look',0,'2026-11-25T19:45:00Z',0,'{"uid":"34b08a00-c0c2-5916-8738-ec3562f3fa63","task":"FE-1/look","day":"2027-03-01","due_on":"2027-03-01","summary":"FE-1: Portable extinguishers, monthly visual check","text":"FE-1 Portable extinguishers: Portable extinguishers, monthly visual check\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-01: every month on the first Monday, since 2027-02-01 (planned for 2027-02-01).\n\nJOB\nTask: FE-1/look\nTime: 15 min\nCrew: in-house\nDemanded by: 29 CFR 1910.157(e)(2)","reminder_days":2,"categories":["FE-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'30400f5b-07d2-5d4d-b931-a54fccc5c82e','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"30400f5b-07d2-5d4d-b931-a54fccc5c82e","task":"PB-1/weekly","day":"2027-03-01","due_on":"2027-03-01","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'cc901fc1-8e65-5f69-8766-fe149342ec6a','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"cc901fc1-8e65-5f69-8766-fe149342ec6a","task":"TP-1/weekly","day":"2027-03-01","due_on":"2027-03-01","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'356ac29c-ca1d-5f06-8b09-702abc536a0d','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"356ac29c-ca1d-5f06-8b09-702abc536a0d","task":"PB-1/weekly","day":"2027-03-08","due_on":"2027-03-08","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'e7d0c547-d3ae-5cf6-acf9-55c3b5680fa0','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"e7d0c547-d3ae-5cf6-acf9-55c3b5680fa0","task":"TP-1/weekly","day":"2027-03-08","due_on":"2027-03-08","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'585729a4-5bff-5d98-bb90-7e1186cf5576','TP-1/monthly',0,'2026-11-25T19:45:00Z',0,'{"uid":"585729a4-5bff-5d98-bb90-7e1186cf5576","task":"TP-1/monthly","day":"2027-03-11","due_on":"2027-03-11","summary":"TP-1: Monthly in-house service","text":"TP-1 Turret punch press: Monthly in-house service\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Thu 2027-03-11: every 1 month, since 2027-02-11 (planned for 2027-02-11).\n\nJOB\nTask: TP-1/monthly\nTime: 90 min\nCrew: in-house\n\nSTEPS\n1. Drain the air filter.\n2. Pump pressure at idle: between 150 and 170 bar (record as pump-pressure)\n\nBRING\n- filter element\n- Lint-free cloths","reminder_days":2,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'b011826b-e992-50bb-aa89-66d4a1137a94','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"b011826b-e992-50bb-aa89-66d4a1137a94","task":"PB-1/weekly","day":"2027-03-15","due_on":"2027-03-15","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'d7e559b6-d35e-58ec-b174-ed3344b985eb','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"d7e559b6-d35e-58ec-b174-ed3344b985eb","task":"TP-1/weekly","day":"2027-03-15","due_on":"2027-03-15","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'cc72ff56-46ec-5690-9e4e-e5b29a5b234a','PB-1/belt',0,'2026-11-25T19:45:00Z',0,'{"uid":"cc72ff56-46ec-5690-9e4e-e5b29a5b234a","task":"PB-1/belt","day":"2027-03-22","due_on":"2027-03-22","summary":"PB-1: Drive belt inspected","text":"PB-1 Press brake: Drive belt inspected\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-22: every 20000 cycles, since 2027-02-17 (planned for 2027-02-17).\nExpected by usage: 66,800 cycles.\n\nJOB\nTask: PB-1/belt\nTime: 30 min\nCrew: in-house","reminder_days":7,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'5061bf77-8e19-5ab9-8a41-e53cffe646b6','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"5061bf77-8e19-5ab9-8a41-e53cffe646b6","task":"PB-1/weekly","day":"2027-03-22","due_on":"2027-03-22","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'0b547c2e-faa3-50e8-91a6-ab4243d2a524','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"0b547c2e-faa3-50e8-91a6-ab4243d2a524","task":"TP-1/weekly","day":"2027-03-22","due_on":"2027-03-22","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'9a4cc520-0fb8-57a0-90b1-b2311ae984b0','PB-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"9a4cc520-0fb8-57a0-90b1-b2311ae984b0","task":"PB-1/weekly","day":"2027-03-29","due_on":"2027-03-29","summary":"PB-1: Clean and lubricate","text":"PB-1 Press brake: Clean and lubricate\n\nCAUTIONS\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22).\n\nJOB\nTask: PB-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["PB-1","In-house"],"done":null}');
INSERT INTO "export_event" VALUES(1,'f2831482-63f5-5646-9e49-754736551882','TP-1/weekly',0,'2026-11-25T19:45:00Z',0,'{"uid":"f2831482-63f5-5646-9e49-754736551882","task":"TP-1/weekly","day":"2027-03-29","due_on":"2027-03-29","summary":"TP-1: Clean and lubricate","text":"TP-1 Turret punch press: Clean and lubricate\n\nCAUTIONS\n- Lock out and tag out before opening guards; see procedure LP-04.\n- Lockout/tagout by the shop''s procedure, with stored energy released, before guards come off or hands go in. The maker''s manual and local codes go before this sheet, which licenses nobody: electrical, gas, pressure and lifting work is for the trades licensed for it.\n\nWHY IT IS DUE\nDue Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22).\n\nJOB\nTask: TP-1/weekly\nTime: 20 min\nCrew: in-house","reminder_days":1,"categories":["TP-1","In-house"],"done":null}');
CREATE TABLE job (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    title TEXT NOT NULL CHECK (title <> ''),
    found_in INTEGER REFERENCES completion (entry)
) STRICT;
INSERT INTO "job" VALUES(9,'TP-1','hose',3);
CREATE TABLE machine (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO "machine" VALUES('TP-1',0,'{"code":"TP-1","name":"Turret punch press","in_service":"2019-03-04","meters":[],"cautions":["Lock out and tag out before opening guards; see procedure LP-04."],"note":""}',NULL);
INSERT INTO "machine" VALUES('PB-1',1,'{"code":"PB-1","name":"Press brake","in_service":null,"meters":[],"cautions":[],"note":""}',NULL);
INSERT INTO "machine" VALUES('FE-1',2,'{"code":"FE-1","name":"Portable extinguishers","in_service":null,"meters":[],"cautions":[],"note":""}',NULL);
CREATE TABLE material (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO "material" VALUES('mild',0,'{"code":"mild","wear":"1","thickness":"1"}',NULL);
INSERT INTO "material" VALUES('stainless',1,'{"code":"stainless","wear":"2","thickness":"1"}',NULL);
CREATE TABLE measurement (
    entry INTEGER NOT NULL REFERENCES completion (entry),
    name TEXT NOT NULL,
    value INTEGER NOT NULL,
    in_limits INTEGER NOT NULL CHECK (in_limits IN (0, 1)),
    PRIMARY KEY (entry, name)
) STRICT;
INSERT INTO "measurement" VALUES(11,'pump-pressure',160500000,1);
CREATE TABLE meter (
    machine TEXT NOT NULL REFERENCES machine (code),
    name TEXT NOT NULL,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT,
    PRIMARY KEY (machine, name)
) STRICT;
INSERT INTO "meter" VALUES('TP-1','hits',0,'{"name":"hits","fastest":{"amount":"120","per":"minute"},"expected":{"amount":"9000","per":"day"},"wraps_at":"10000000"}',NULL);
INSERT INTO "meter" VALUES('TP-1','hours',1,'{"name":"hours","fastest":null,"expected":{"amount":"11","per":"day"},"wraps_at":null}',NULL);
INSERT INTO "meter" VALUES('PB-1','cycles',2,'{"name":"cycles","fastest":{"amount":"20","per":"minute"},"expected":{"amount":"900","per":"day"},"wraps_at":null}',NULL);
CREATE TABLE pin (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    task TEXT NOT NULL REFERENCES task (name),
    key TEXT NOT NULL CHECK (key <> ''),    -- of the job, the same in every plan
    pinned_to TEXT NOT NULL CHECK (pinned_to GLOB '????-??-??'),
    why TEXT NOT NULL
) STRICT;
INSERT INTO "pin" VALUES(17,'TP-1/weekly','TP-1/weekly#7','2027-01-13','');
INSERT INTO "pin" VALUES(18,'TP-1/monthly','TP-1/monthly#3','2027-01-18','');
CREATE TABLE plan (
    id INTEGER PRIMARY KEY,
    period TEXT NOT NULL CHECK (period <> ''),
    at TEXT NOT NULL CHECK (at GLOB '????-??-??T??:??:??Z'),
    by TEXT NOT NULL CHECK (by <> ''),
    gap REAL NOT NULL CHECK (gap >= 0)      -- a share of its cost
) STRICT;
INSERT INTO "plan" VALUES(1,'2027-Q1','2026-11-25T19:45:00Z','Dana',0.0);
INSERT INTO "plan" VALUES(2,'2027-Q1','2026-11-25T19:45:00Z','Dana',0.0);
CREATE TABLE plan_job (
    plan INTEGER NOT NULL REFERENCES plan (id),
    key TEXT NOT NULL CHECK (key <> ''),
    task TEXT NOT NULL,
    day TEXT CHECK (day GLOB '????-??-??'),  -- null: the job does not fit
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    PRIMARY KEY (plan, key)
) STRICT;
INSERT INTO "plan_job" VALUES(1,'FE-1/look@2027-01-04','FE-1/look','2027-01-04','{"title":"Portable extinguishers, monthly visual check","rule":"every month on the first Monday","due_on":"2027-01-04","window":["2027-01-02","2027-01-04"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-04: every month on the first Monday, since 2026-12-07 (planned for 2026-12-07)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#5','PB-1/weekly','2027-01-04','{"title":"Clean and lubricate","rule":"1 week","due_on":"2026-12-30","window":["2026-12-29","2027-01-05"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#6','TP-1/weekly','2027-01-04','{"title":"Clean and lubricate","rule":"1 week","due_on":"2026-12-30","window":["2026-12-29","2027-01-05"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#6','PB-1/weekly','2027-01-11','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-11","window":["2027-01-10","2027-01-12"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/monthly#3','TP-1/monthly','2027-01-11','{"title":"Monthly in-house service","rule":"1 month","due_on":"2027-01-11","window":["2027-01-08","2027-01-14"],"lead":3,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-11: every 1 month, since 2026-12-11 (planned for 2026-12-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#7','TP-1/weekly','2027-01-11','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-11","window":["2027-01-10","2027-01-12"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/belt#2','PB-1/belt','2027-01-15','{"title":"Drive belt inspected","rule":"20000 cycles","due_on":"2027-01-15","window":["2027-01-13","2027-01-19"],"lead":7,"due_range":null,"pinned":false,"visit":null,"why":["Due Fri 2027-01-15: every 20000 cycles, since 2026-12-04 (planned for 2026-12-04).","Expected by usage: 25,400 cycles."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#7','PB-1/weekly','2027-01-18','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-18","window":["2027-01-17","2027-01-19"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#8','TP-1/weekly','2027-01-18','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-18","window":["2027-01-17","2027-01-19"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#8','PB-1/weekly','2027-01-25','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-25","window":["2027-01-24","2027-01-26"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#9','TP-1/weekly','2027-01-25','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-25","window":["2027-01-24","2027-01-26"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'FE-1/look@2027-02-01','FE-1/look','2027-02-01','{"title":"Portable extinguishers, monthly visual check","rule":"every month on the first Monday","due_on":"2027-02-01","window":["2027-01-30","2027-02-01"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-01: every month on the first Monday, since 2027-01-04 (planned for 2027-01-04)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#9','PB-1/weekly','2027-02-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-01","window":["2027-01-31","2027-02-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#10','TP-1/weekly','2027-02-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-01","window":["2027-01-31","2027-02-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#10','PB-1/weekly','2027-02-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-08","window":["2027-02-07","2027-02-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#11','TP-1/weekly','2027-02-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-08","window":["2027-02-07","2027-02-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/monthly#4','TP-1/monthly','2027-02-11','{"title":"Monthly in-house service","rule":"1 month","due_on":"2027-02-11","window":["2027-02-08","2027-02-14"],"lead":3,"due_range":null,"pinned":false,"visit":null,"why":["Due Thu 2027-02-11: every 1 month, since 2027-01-11 (planned for 2027-01-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#11','PB-1/weekly','2027-02-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-15","window":["2027-02-14","2027-02-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#12','TP-1/weekly','2027-02-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-15","window":["2027-02-14","2027-02-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/belt#3','PB-1/belt','2027-02-17','{"title":"Drive belt inspected","rule":"20000 cycles","due_on":"2027-02-17","window":["2027-02-15","2027-02-19"],"lead":7,"due_range":null,"pinned":false,"visit":null,"why":["Due Wed 2027-02-17: every 20000 cycles, since 2027-01-15 (planned for 2027-01-15).","Expected by usage: 46,100 cycles."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#12','PB-1/weekly','2027-02-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-22","window":["2027-02-21","2027-02-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#13','TP-1/weekly','2027-02-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-22","window":["2027-02-21","2027-02-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'FE-1/look@2027-03-01','FE-1/look','2027-03-01','{"title":"Portable extinguishers, monthly visual check","rule":"every month on the first Monday","due_on":"2027-03-01","window":["2027-02-27","2027-03-01"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-01: every month on the first Monday, since 2027-02-01 (planned for 2027-02-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#13','PB-1/weekly','2027-03-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-01","window":["2027-02-28","2027-03-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#14','TP-1/weekly','2027-03-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-01","window":["2027-02-28","2027-03-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#14','PB-1/weekly','2027-03-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-08","window":["2027-03-07","2027-03-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#15','TP-1/weekly','2027-03-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-08","window":["2027-03-07","2027-03-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/monthly#5','TP-1/monthly','2027-03-11','{"title":"Monthly in-house service","rule":"1 month","due_on":"2027-03-11","window":["2027-03-09","2027-03-13"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Thu 2027-03-11: every 1 month, since 2027-02-11 (planned for 2027-02-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#15','PB-1/weekly','2027-03-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-15","window":["2027-03-14","2027-03-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#16','TP-1/weekly','2027-03-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-15","window":["2027-03-14","2027-03-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/belt#4','PB-1/belt','2027-03-22','{"title":"Drive belt inspected","rule":"20000 cycles","due_on":"2027-03-22","window":["2027-03-18","2027-03-24"],"lead":7,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-22: every 20000 cycles, since 2027-02-17 (planned for 2027-02-17).","Expected by usage: 66,800 cycles."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#16','PB-1/weekly','2027-03-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-22","window":["2027-03-21","2027-03-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#17','TP-1/weekly','2027-03-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-22","window":["2027-03-21","2027-03-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'PB-1/weekly#17','PB-1/weekly','2027-03-29','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-29","window":["2027-03-28","2027-03-30"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(1,'TP-1/weekly#18','TP-1/weekly','2027-03-29','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-29","window":["2027-03-28","2027-03-30"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'FE-1/look@2027-01-04','FE-1/look','2027-01-04','{"title":"Portable extinguishers, monthly visual check","rule":"every month on the first Monday","due_on":"2027-01-04","window":["2027-01-02","2027-01-04"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-04: every month on the first Monday, since 2026-12-07 (planned for 2026-12-07)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#5','PB-1/weekly','2027-01-04','{"title":"Clean and lubricate","rule":"1 week","due_on":"2026-12-30","window":["2026-12-29","2027-01-05"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#6','TP-1/weekly','2027-01-04','{"title":"Clean and lubricate","rule":"1 week","due_on":"2026-12-30","window":["2026-12-29","2027-01-05"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Wed 2026-12-30: every 1 week, since 2026-12-23 (planned for 2026-12-23)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#6','PB-1/weekly','2027-01-11','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-11","window":["2027-01-10","2027-01-12"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#7','TP-1/weekly','2027-01-11','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-11","window":["2027-01-10","2027-01-12"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-11: every 1 week, since 2027-01-04 (planned for 2027-01-04)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/belt#2','PB-1/belt','2027-01-15','{"title":"Drive belt inspected","rule":"20000 cycles","due_on":"2027-01-15","window":["2027-01-13","2027-01-19"],"lead":7,"due_range":null,"pinned":false,"visit":null,"why":["Due Fri 2027-01-15: every 20000 cycles, since 2026-12-04 (planned for 2026-12-04).","Expected by usage: 25,400 cycles."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#7','PB-1/weekly','2027-01-18','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-18","window":["2027-01-17","2027-01-19"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/monthly#3','TP-1/monthly','2027-01-18','{"title":"Monthly in-house service","rule":"1 month","due_on":"2027-01-11","window":["2027-01-08","2027-01-14"],"lead":3,"due_range":null,"pinned":true,"visit":null,"why":["Due Mon 2027-01-11: every 1 month, since 2026-12-11 (planned for 2026-12-11)."],"remarks":["pinned outside its window"]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#8','TP-1/weekly','2027-01-18','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-18","window":["2027-01-17","2027-01-19"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-18: every 1 week, since 2027-01-11 (planned for 2027-01-11)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#8','PB-1/weekly','2027-01-25','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-25","window":["2027-01-24","2027-01-26"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#9','TP-1/weekly','2027-01-25','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-01-25","window":["2027-01-24","2027-01-26"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-01-25: every 1 week, since 2027-01-18 (planned for 2027-01-18)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'FE-1/look@2027-02-01','FE-1/look','2027-02-01','{"title":"Portable extinguishers, monthly visual check","rule":"every month on the first Monday","due_on":"2027-02-01","window":["2027-01-30","2027-02-01"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-01: every month on the first Monday, since 2027-01-04 (planned for 2027-01-04)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#9','PB-1/weekly','2027-02-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-01","window":["2027-01-31","2027-02-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#10','TP-1/weekly','2027-02-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-01","window":["2027-01-31","2027-02-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-01: every 1 week, since 2027-01-25 (planned for 2027-01-25)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#10','PB-1/weekly','2027-02-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-08","window":["2027-02-07","2027-02-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#11','TP-1/weekly','2027-02-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-08","window":["2027-02-07","2027-02-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-08: every 1 week, since 2027-02-01 (planned for 2027-02-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#11','PB-1/weekly','2027-02-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-15","window":["2027-02-14","2027-02-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#12','TP-1/weekly','2027-02-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-15","window":["2027-02-14","2027-02-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-15: every 1 week, since 2027-02-08 (planned for 2027-02-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/belt#3','PB-1/belt','2027-02-17','{"title":"Drive belt inspected","rule":"20000 cycles","due_on":"2027-02-17","window":["2027-02-15","2027-02-19"],"lead":7,"due_range":null,"pinned":false,"visit":null,"why":["Due Wed 2027-02-17: every 20000 cycles, since 2027-01-15 (planned for 2027-01-15).","Expected by usage: 46,100 cycles."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/monthly#4','TP-1/monthly','2027-02-18','{"title":"Monthly in-house service","rule":"1 month","due_on":"2027-02-18","window":["2027-02-15","2027-02-21"],"lead":3,"due_range":null,"pinned":false,"visit":null,"why":["Due Thu 2027-02-18: every 1 month, since 2027-01-18 (planned for 2027-01-18)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#12','PB-1/weekly','2027-02-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-22","window":["2027-02-21","2027-02-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#13','TP-1/weekly','2027-02-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-02-22","window":["2027-02-21","2027-02-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-02-22: every 1 week, since 2027-02-15 (planned for 2027-02-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'FE-1/look@2027-03-01','FE-1/look','2027-03-01','{"title":"Portable extinguishers, monthly visual check","rule":"every month on the first Monday","due_on":"2027-03-01","window":["2027-02-27","2027-03-01"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-01: every month on the first Monday, since 2027-02-01 (planned for 2027-02-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#13','PB-1/weekly','2027-03-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-01","window":["2027-02-28","2027-03-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#14','TP-1/weekly','2027-03-01','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-01","window":["2027-02-28","2027-03-02"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-01: every 1 week, since 2027-02-22 (planned for 2027-02-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#14','PB-1/weekly','2027-03-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-08","window":["2027-03-07","2027-03-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#15','TP-1/weekly','2027-03-08','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-08","window":["2027-03-07","2027-03-09"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-08: every 1 week, since 2027-03-01 (planned for 2027-03-01)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#15','PB-1/weekly','2027-03-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-15","window":["2027-03-14","2027-03-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#16','TP-1/weekly','2027-03-15','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-15","window":["2027-03-14","2027-03-16"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-15: every 1 week, since 2027-03-08 (planned for 2027-03-08)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/monthly#5','TP-1/monthly','2027-03-18','{"title":"Monthly in-house service","rule":"1 month","due_on":"2027-03-18","window":["2027-03-16","2027-03-20"],"lead":2,"due_range":null,"pinned":false,"visit":null,"why":["Due Thu 2027-03-18: every 1 month, since 2027-02-18 (planned for 2027-02-18)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/belt#4','PB-1/belt','2027-03-22','{"title":"Drive belt inspected","rule":"20000 cycles","due_on":"2027-03-22","window":["2027-03-18","2027-03-24"],"lead":7,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-22: every 20000 cycles, since 2027-02-17 (planned for 2027-02-17).","Expected by usage: 66,800 cycles."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#16','PB-1/weekly','2027-03-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-22","window":["2027-03-21","2027-03-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#17','TP-1/weekly','2027-03-22','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-22","window":["2027-03-21","2027-03-23"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-22: every 1 week, since 2027-03-15 (planned for 2027-03-15)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'PB-1/weekly#17','PB-1/weekly','2027-03-29','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-29","window":["2027-03-28","2027-03-30"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22)."],"remarks":[]}');
INSERT INTO "plan_job" VALUES(2,'TP-1/weekly#18','TP-1/weekly','2027-03-29','{"title":"Clean and lubricate","rule":"1 week","due_on":"2027-03-29","window":["2027-03-28","2027-03-30"],"lead":1,"due_range":null,"pinned":false,"visit":null,"why":["Due Mon 2027-03-29: every 1 week, since 2027-03-22 (planned for 2027-03-22)."],"remarks":[]}');
CREATE TABLE program (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO "program" VALUES('KIOSK-DOOR',0,'{"code":"KIOSK-DOOR","material":"mild","hits":{"RD-10":"14"}}',NULL);
CREATE TABLE release (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    target INTEGER NOT NULL REFERENCES pin (entry),
    CHECK (target < entry)
) STRICT;
INSERT INTO "release" VALUES(19,17);
CREATE TABLE restart (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    at TEXT NOT NULL
) STRICT;
INSERT INTO "restart" VALUES(13,'PB-1','2026-11-25T19:45:00Z');
INSERT INTO "restart" VALUES(22,'TP-1','2026-11-25T14:40:00Z');
CREATE TABLE service_change (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    at TEXT NOT NULL,
    day TEXT NOT NULL,
    out INTEGER NOT NULL CHECK (out IN (0, 1)),  -- 1: taken out of service, 0: back
    why TEXT NOT NULL
) STRICT;
INSERT INTO "service_change" VALUES(5,'FE-1','2026-11-25T13:00:00Z','2026-11-25',1,'cleared');
INSERT INTO "service_change" VALUES(16,'FE-1','2026-11-25T19:45:00Z','2026-11-25',0,'');
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
INSERT INTO "shift_log" VALUES(1,'TP-1','day','2026-11-24',310000000,4000000,NULL,NULL,0);
INSERT INTO "shift_log" VALUES(2,'TP-1','day','2026-11-25',NULL,NULL,NULL,NULL,0);
INSERT INTO "shift_log" VALUES(7,'PB-1','day','2026-11-25',NULL,NULL,NULL,NULL,0);
CREATE TABLE stop (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    machine TEXT NOT NULL REFERENCES machine (code),
    started TEXT NOT NULL,
    ended TEXT,
    planned INTEGER NOT NULL CHECK (planned IN (0, 1)),
    cause TEXT NOT NULL CHECK (cause <> ''),
    CHECK (ended IS NULL OR ended > started)
) STRICT;
INSERT INTO "stop" VALUES(4,'PB-1','2026-11-25T18:00:00Z',NULL,0,'gauge');
INSERT INTO "stop" VALUES(21,'TP-1','2026-11-25T14:00:00Z',NULL,0,'turret index');
INSERT INTO "stop" VALUES(23,'PB-1','2026-11-25T15:00:00Z',NULL,0,'belt');
CREATE TABLE store (
    id TEXT NOT NULL PRIMARY KEY,           -- a random UUID; calendar UIDs rest on it
    made_at TEXT NOT NULL,
    demo INTEGER NOT NULL CHECK (demo IN (0, 1))
) STRICT;
INSERT INTO "store" VALUES('7d616d03-b518-43a4-82c1-0bc1e1f1bf00','2026-11-23T11:00:00Z',0);
CREATE TABLE supplier (
    code TEXT NOT NULL PRIMARY KEY,
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO "supplier" VALUES('press-service',0,'{"code":"press-service","name":"Outside press service","notice":21,"callout_cost":"450"}',NULL);
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
    dial_offset INTEGER,                    -- added to a dial reading gives usage
    level INTEGER NOT NULL,                 -- usage before the first entry
    counted INTEGER NOT NULL,               -- a count came since the last dial
    unlogged INTEGER NOT NULL,
    PRIMARY KEY (machine, meter, at, is_dial, entry)
) STRICT, WITHOUT ROWID;
INSERT INTO "tally" VALUES('TP-1','hits','2026-11-24T19:30:00Z',0,1,'2026-11-24',41200000000,0,0,41200000000,NULL,0,1,0);
INSERT INTO "tally" VALUES('TP-1','hits','2026-11-25T19:30:00Z',1,2,'2026-11-25',1204350000000,0,0,41200000000,-1163150000000,1163150000000,0,0);
CREATE TABLE task (
    name TEXT NOT NULL PRIMARY KEY,         -- machine/code
    machine TEXT NOT NULL REFERENCES machine (code),
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    first_applied TEXT NOT NULL,
    retired_on TEXT,
    raised_by INTEGER REFERENCES entry (id)  -- of a one-off job: the entry that raised it
, rhythm TEXT AS (json_extract(definition,
    '$.every', '$.on', '$.once', '$.starts', '$.last_done', '$.lead', '$.covers')) VIRTUAL) STRICT;
INSERT INTO "task" VALUES('TP-1/weekly','TP-1',0,'{"machine":"TP-1","code":"weekly","title":"Clean and lubricate","every":[{"amount":"1","unit":"week","text":"1 week"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-11-20","readings":{}},"grace":[],"lead":[],"minutes":20,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO "task" VALUES('PB-1/weekly','PB-1',1,'{"machine":"PB-1","code":"weekly","title":"Clean and lubricate","every":[{"amount":"1","unit":"week","text":"1 week"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-11-20","readings":{}},"grace":[],"lead":[],"minutes":20,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO "task" VALUES('TP-1/monthly','TP-1',2,'{"machine":"TP-1","code":"monthly","title":"Monthly in-house service","every":[{"amount":"1","unit":"month","text":"1 month"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-10-25","readings":{}},"grace":[],"lead":[],"minutes":90,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[{"text":"Drain the air filter.","measure":null,"unit":"","low":null,"high":null},{"text":"Pump pressure at idle","measure":"pump-pressure","unit":"bar","low":"150","high":"170"}],"parts":[{"name":"filter element","quantity":"1","unit":""},{"name":"Lint-free cloths","quantity":"1","unit":""}],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO "task" VALUES('TP-1/half-year','TP-1',3,'{"machine":"TP-1","code":"half-year","title":"Outside service, hydraulic fluid changed and machine greased","every":[{"amount":"6","unit":"month","text":"6 months"},{"amount":"2000","unit":"hours","text":"2000 hours"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-06-12","readings":{"hours":"0"}},"grace":[],"lead":[],"minutes":420,"crew":"press-service","covers":["monthly"],"authority":null,"machine_down":true,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO "task" VALUES('PB-1/belt','PB-1',4,'{"machine":"PB-1","code":"belt","title":"Drive belt inspected","every":[{"amount":"20000","unit":"cycles","text":"20000 cycles"}],"on":null,"once":null,"starts":null,"last_done":{"on":"2026-11-02","readings":{"cycles":"0"}},"grace":[],"lead":[],"minutes":30,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO "task" VALUES('FE-1/look','FE-1',5,'{"machine":"FE-1","code":"look","title":"Portable extinguishers, monthly visual check","every":[],"on":{"rule":"FREQ=MONTHLY;BYDAY=1MO"},"once":null,"starts":"2026-11-02","last_done":null,"grace":[],"lead":[],"minutes":15,"crew":null,"covers":[],"authority":"29 CFR 1910.157(e)(2)","machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-23',NULL,NULL);
INSERT INTO "task" VALUES('TP-1/job-9','TP-1',9,'{"machine":"TP-1","code":"job-9","title":"hose","every":[],"on":null,"once":{"due_on":"2026-12-02"},"starts":null,"last_done":null,"grace":[],"lead":[],"minutes":null,"crew":null,"covers":[],"authority":null,"machine_down":false,"steps":[],"parts":[],"cautions":[],"note":""}','2026-11-25',NULL,9);
CREATE TABLE tool (
    code TEXT NOT NULL PRIMARY KEY,
    machine TEXT NOT NULL REFERENCES machine (code),
    position INTEGER NOT NULL,
    definition TEXT NOT NULL CHECK (json_valid(definition)),
    retired_on TEXT
) STRICT;
INSERT INTO "tool" VALUES('RD-10','TP-1',0,'{"code":"RD-10","machine":"TP-1","sharpen_every":"60000","kind":"round punch","size":"10 mm","grind":"1/5","grindable":"3","replace_notice":10,"price":"85"}',NULL);
INSERT INTO "tool" VALUES('SQ-5','TP-1',1,'{"code":"SQ-5","machine":"TP-1","sharpen_every":"50000","kind":"","size":"","grind":"1/5","grindable":"2","replace_notice":null,"price":null}',NULL);
CREATE TABLE tool_count (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    tool TEXT NOT NULL REFERENCES tool (code),
    hits INTEGER NOT NULL CHECK (hits >= 0),
    material TEXT REFERENCES material (code)
) STRICT;
INSERT INTO "tool_count" VALUES(14,'RD-10',9000250000,NULL);
CREATE TABLE tool_event (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    tool TEXT NOT NULL REFERENCES tool (code),
    event TEXT NOT NULL CHECK (event IN ('sharpen', 'fit', 'takeout', 'replace', 'scrap')),
    mm INTEGER CHECK (mm > 0),
    why TEXT CHECK (why IN ('planned', 'burr', 'chipped')),
    machine TEXT REFERENCES machine (code),
    station TEXT, length INTEGER
    CHECK (length IS NULL OR (length > 0 AND event = 'sharpen')),
    CHECK ((event = 'sharpen') = (mm IS NOT NULL)),
    CHECK ((event = 'fit') = (station IS NOT NULL))
) STRICT;
INSERT INTO "tool_event" VALUES(6,'RD-10','fit',NULL,NULL,'TP-1','T12',NULL);
INSERT INTO "tool_event" VALUES(15,'RD-10','sharpen',200000,'planned',NULL,NULL,NULL);
INSERT INTO "tool_event" VALUES(20,'RD-10','sharpen',200000,'burr',NULL,NULL,207800000);
CREATE TABLE void (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (id),
    target INTEGER NOT NULL UNIQUE REFERENCES entry (id),
    why TEXT NOT NULL CHECK (why <> ''),
    CHECK (target < entry)
) STRICT;
INSERT INTO "void" VALUES(8,7,'twice');
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
CREATE INDEX pin_key ON pin (key);
CREATE INDEX pin_day ON pin (pinned_to);
CREATE INDEX release_target ON release (target);
CREATE INDEX plan_period ON plan (period, id);
CREATE INDEX plan_job_day ON plan_job (plan, day);
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER pin_no_update BEFORE UPDATE ON pin BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER pin_no_delete BEFORE DELETE ON pin BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER release_no_update BEFORE UPDATE ON release BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER release_no_delete BEFORE DELETE ON release BEGIN SELECT RAISE(ABORT, 'facts are only added; void the entry'); END;
CREATE TRIGGER plan_no_update BEFORE UPDATE ON plan BEGIN SELECT RAISE(ABORT, 'saved plans are kept; save a new one'); END;
CREATE TRIGGER plan_no_delete BEFORE DELETE ON plan BEGIN SELECT RAISE(ABORT, 'saved plans are kept; save a new one'); END;
CREATE TRIGGER plan_job_no_update BEFORE UPDATE ON plan_job BEGIN SELECT RAISE(ABORT, 'saved plans are kept; save a new one'); END;
CREATE TRIGGER plan_job_no_delete BEFORE DELETE ON plan_job BEGIN SELECT RAISE(ABORT, 'saved plans are kept; save a new one'); END;
CREATE INDEX task_rhythm ON task (name, rhythm, first_applied, retired_on, raised_by);
COMMIT;
