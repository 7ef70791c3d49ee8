-- A workshop file as this version wrote it, with rows. Never edited.
PRAGMA foreign_keys = OFF;
CREATE TABLE kit (
    id    INTEGER PRIMARY KEY,
    kit   TEXT NOT NULL,               -- JSON: KitDraft, checked before it was written
    owned TEXT NOT NULL                -- JSON: sets owned per counted pair
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB, archived_ms INTEGER) STRICT;
CREATE TABLE bow (
    id              INTEGER PRIMARY KEY,
    name            TEXT NOT NULL,
    owner           TEXT NOT NULL,
    hand            TEXT NOT NULL,
    axle_to_axle_mm REAL NOT NULL,
    brace_height_mm REAL,
    draw_weight_n   REAL,
    draw_length_mm  REAL,
    top_weight      REAL NOT NULL,
    cam_note        TEXT NOT NULL,
    kit_id          INTEGER REFERENCES kit (id),
    priority        TEXT NOT NULL,    -- JSON: what should come together first
    tolerance_mm    REAL,
    tolerance_distance_m REAL,
    notes           TEXT NOT NULL,
    added_ms        INTEGER NOT NULL,
    used_ms         INTEGER NOT NULL,
    archived_ms     INTEGER             -- set while the bow is off the rack; its pieces stay in it
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB, maker TEXT NOT NULL DEFAULT '[]', revision INTEGER NOT NULL DEFAULT 0, family TEXT NOT NULL DEFAULT '', rest_left_mm REAL, rest_right_mm REAL, remembered TEXT NOT NULL DEFAULT '[]') STRICT;
CREATE TABLE arrow_setup (
    id     INTEGER PRIMARY KEY,
    bow_id INTEGER NOT NULL REFERENCES bow (id),
    name   TEXT NOT NULL,
    setup  TEXT NOT NULL               -- JSON: flight::ArrowSetup
, archived_ms INTEGER, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB) STRICT;
CREATE TABLE verdict (
    id            INTEGER PRIMARY KEY,
    bow_id        INTEGER NOT NULL REFERENCES bow (id),
    fitting_id    INTEGER NOT NULL REFERENCES fitting (id),
    last_trial_id INTEGER REFERENCES trial (id),  -- the newest trial it used
    outcome       TEXT NOT NULL,       -- fit, keep, shoot_more, adjust_first
    more          TEXT,                -- JSON: arrows still wanted, for shoot_more
    given         TEXT NOT NULL,       -- JSON: the whole verdict and the trials it used
    at_ms         INTEGER NOT NULL
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, revision INTEGER NOT NULL DEFAULT -1) STRICT;
CREATE TABLE fitting (
    id           INTEGER PRIMARY KEY,
    bow_id       INTEGER NOT NULL REFERENCES bow (id),
    kit_id       INTEGER NOT NULL REFERENCES kit (id),
    top_pair     TEXT NOT NULL,
    top_thick    TEXT NOT NULL,
    bottom_pair  TEXT NOT NULL,
    bottom_thick TEXT NOT NULL,
    reason       TEXT NOT NULL,
    verdict_id   INTEGER REFERENCES verdict (id),
    corrects_id  INTEGER REFERENCES fitting (id),
    at_ms        INTEGER NOT NULL
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE setup_check (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    item     TEXT NOT NULL,
    state    TEXT NOT NULL,
    measured REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, reopened TEXT) STRICT;
CREATE TABLE setup_change (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    kind     TEXT NOT NULL,
    value_mm REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, corrects_id INTEGER REFERENCES setup_change (id), struck INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE trial (
    id             INTEGER PRIMARY KEY,
    bow_id         INTEGER NOT NULL REFERENCES bow (id),
    fitting_id     INTEGER NOT NULL REFERENCES fitting (id),
    arrow_setup_id INTEGER REFERENCES arrow_setup (id),
    surface        TEXT NOT NULL,
    distance_m     REAL NOT NULL,
    rest_mm        REAL NOT NULL,
    nock_mm        REAL NOT NULL,
    epoch          INTEGER NOT NULL,
    marks          TEXT NOT NULL,      -- JSON: impacts, tears, photo, plane facts, note
    at_ms          INTEGER NOT NULL
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB, struck_ms INTEGER) STRICT;
CREATE TABLE camera (
    camera TEXT PRIMARY KEY,
    k1     REAL NOT NULL,
    at_ms  INTEGER NOT NULL
, tick INTEGER NOT NULL DEFAULT 0, mark BLOB) STRICT;
CREATE TABLE settings (
    id       INTEGER PRIMARY KEY CHECK (id = 1),
    settings TEXT NOT NULL             -- JSON: WorkshopSettings
, tick INTEGER NOT NULL DEFAULT 0, mark BLOB) STRICT;
CREATE TABLE clock (
    id   INTEGER PRIMARY KEY CHECK (id = 1),
    tick INTEGER NOT NULL CHECK (tick BETWEEN 0 AND 99999999999999)
) STRICT;
CREATE TABLE fitting_parent (
    fitting_id INTEGER NOT NULL REFERENCES fitting (id),
    parent_id  INTEGER NOT NULL REFERENCES fitting (id),
    PRIMARY KEY (fitting_id, parent_id)
) STRICT, WITHOUT ROWID;
CREATE TABLE "swap" (
    bow_id     INTEGER PRIMARY KEY REFERENCES bow (id),
    swap       TEXT,                   -- JSON: the swap under way; NULL when it has ended
    reason     TEXT NOT NULL,
    verdict_id INTEGER REFERENCES verdict (id),
    started_ms INTEGER NOT NULL,
    touched_ms INTEGER NOT NULL,
    tick       INTEGER NOT NULL,
    mark       BLOB NOT NULL
) STRICT;
INSERT INTO kit VALUES (1, '{"form":2,"name":"Bench 4.4","total_mm":4.4,"tolerance_mm":0.05,"pairs":[{"name":"A","thin_mm":1.3,"thick_mm":3.1,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""},{"name":"B","thin_mm":1.6,"thick_mm":2.8,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""},{"name":"C","thin_mm":1.9,"thick_mm":2.5,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""}]}', '[]', X'6CC4F0E930B34481D03A4134331852EA', 1, 1, X'B64C0D4EC2AF5ABA75D0E38754BD4DA2', NULL);
INSERT INTO bow VALUES (1, 'Heron', 'rack 7', 'right', 838.0, NULL, NULL, NULL, 0.5, '', 1, '[]', NULL, NULL, '', 1000, 6000, NULL, X'3A1882A09A3466322CC78C317B8CDDFD', 1000, 1500, X'BB7D0988CE8DDDF245273AFE77B877F1', '[{"item":"brace_height","low":158.0,"high":162.0}]', 35, '', 0.0, 0.0, '[]');
INSERT INTO arrow_setup VALUES (1, 1, 'Field', '{"form":2,"shaft_length_mm":736.6,"diameter_mm":null,"total_mass_kg":null,"shaft_kg_per_m":null,"point_mass_kg":null,"insert_mass_kg":null,"nock_mass_kg":null,"balance_mm":null,"vanes":{"count":3,"length_mm":50.8,"height_mm":12.7,"sweep_mm":null,"from_nock_mm":25.4,"mass_kg":0.000454},"broadhead":{"blades":3,"cut_mm":27.0,"blade_mm":25.4,"mass_kg":null},"static_spine":null,"speed_mps":null}', 7000, X'34E35170EE48EC0235A79803FA0CF37D', 6001, 7000, X'8B8F155F2049C95F017E306BB50AA50F');
INSERT INTO verdict VALUES (1, 1, 1, 1, 'fit', NULL, '{"form":2,"verdict":{"call":{"fit":{"fitting":{"top":{"pair":"A","thick":"right"},"bottom":{"pair":"A","thick":"right"}},"experiment":true}},"splits":[{"kind":"bare","distance_m":18.288,"x_mm":90.0,"y_mm":0.0,"sd_x_mm":8.139800610496088,"sd_y_mm":8.398809905265525,"p":3.2153698048801096e-8,"is_real":true,"probe_arrows":4,"reference_arrows":4,"dof":13.73562868241421,"low95_mm":72.51028723550836,"high95_mm":107.48971276449164}],"response":{"mm_per_mm":68.40216792014292,"sd":256.238683739719,"wrong_way_chance":0.09999999998928552,"seen_on_this_bow":false,"relatives":0},"predicted":{"kind":"bare","distance_m":18.288,"x_mm":6.02537108138005,"sd_mm":307.60945999902833,"low80_mm":-82.59166298350969,"high80_mm":94.37043176812196,"low95_mm":-287.61426744178164,"high95_mm":197.97150032465484,"within_tolerance":0.23348835449251987},"as_it_is":{"kind":"bare","distance_m":18.288,"x_mm":88.10797258555152,"sd_mm":8.699488294028438,"low80_mm":76.95912974267354,"high80_mm":99.25681542842956,"low95_mm":71.05728884549517,"high95_mm":105.15865632560794,"within_tolerance":2.0194956817931592e-13},"predictions":[{"kind":"bare","distance_m":18.288,"x_mm":6.02537108138005,"sd_mm":307.60945999902833,"low80_mm":-82.59166298350969,"high80_mm":94.37043176812196,"low95_mm":-287.61426744178164,"high95_mm":197.97150032465484,"within_tolerance":0.23348835449251987}],"options":[{"fitting":{"top":{"pair":"A","thick":"right"},"bottom":{"pair":"A","thick":"right"}},"offset_mm":-0.9,"tilt_mm":0.0,"axles_opened":2,"x_mm":6.02537108138005,"sd_mm":307.60945999902833,"within_tolerance":0.23348835449251987,"loss_mm":47.978561780774655},{"fitting":{"top":{"pair":"B","thick":"right"},"bottom":{"pair":"B","thick":"right"}},"offset_mm":-0.5999999999999999,"tilt_mm":0.0,"axles_opened":2,"x_mm":26.54602145742294,"sd_mm":230.77884253708268,"within_tolerance":0.16475447510585717,"loss_mm":52.672004185328966},{"fitting":{"top":{"pair":"C","thick":"right"},"bottom":{"pair":"C","thick":"right"}},"offset_mm":-0.30000000000000004,"tilt_mm":0.0,"axles_opened":2,"x_mm":47.06667183346578,"sd_mm":153.98914180115722,"within_tolerance":0.10697953651010479,"loss_mm":56.10851750797027},{"fitting":{"top":{"pair":"C","thick":"left"},"bottom":{"pair":"C","thick":"left"}},"offset_mm":0.30000000000000004,"tilt_mm":0.0,"axles_opened":0,"x_mm":88.10797258555152,"sd_mm":8.699488294028438,"within_tolerance":2.0194956817931592e-13,"loss_mm":83.10797258555053},{"fitting":{"top":{"pair":"A","thick":"left"},"bottom":{"pair":"A","thick":"left"}},"offset_mm":0.9,"tilt_mm":0.0,"axles_opened":2,"x_mm":129.1492733376373,"sd_mm":153.9891418011572,"within_tolerance":0.01188661516779017,"loss_mm":93.10797258555053},{"fitting":{"top":{"pair":"B","thick":"left"},"bottom":{"pair":"B","thick":"left"}},"offset_mm":0.5999999999999999,"tilt_mm":0.0,"axles_opened":2,"x_mm":108.62862296159437,"sd_mm":77.36229553598879,"within_tolerance":0.004182400177360798,"loss_mm":93.10797258555053}],"alternatives":[{"call":{"shoot_more":{"arrows":{"bare":3,"fletched":3,"broadhead":0,"paper":0,"distance_m":18.288}}},"behind_mm":30.954837461065765}],"reasons":[{"step_pays":{"after":0.23348835449251987,"minutes":40.0,"now":2.0194956817931592e-13}},"tears_teach",{"split_is_real":{"kind":"bare","p":3.2153698048801096e-8,"plus_minus_mm":17.489712764491642,"sd_mm":8.139800610496088,"x_mm":90.0}},"not_yet_seen_on_this_bow",{"vertical_explained":{"kind":"bare","y_mm":15.50171832557291}},{"not_yet_shot":{"kind":"broadhead"}}]},"trial_ids":[1]}', 3000, X'CAF287E5F876A64EE8F49BD3844DE5DC', 3000, 20);
INSERT INTO fitting VALUES (1, 1, 1, 'C', 'left', 'C', 'left', 'taken_in', NULL, NULL, 1000, X'1CCA7B2650C531168B2FB21070C5E3FE', 1001);
INSERT INTO fitting VALUES (2, 1, 1, 'A', 'right', 'A', 'right', 'verdict', 1, NULL, 5000, X'EB8C79637E29F28704E11EAEF55A3B55', 5034);
INSERT INTO setup_check VALUES (1, 1, 'limb_damage', 'ok', NULL, '', 1001, X'CB1403F5F9F7F6B0A69315D85FFAF5AE', 1002, NULL);
INSERT INTO setup_check VALUES (2, 1, 'string_and_cables', 'ok', NULL, '', 1001, X'AD6F4C686AB56265AC53A33BD880D315', 1003, NULL);
INSERT INTO setup_check VALUES (3, 1, 'axle_to_axle', 'ok', NULL, '', 1001, X'248989661258F5ABEA2C4F37651AD920', 1004, NULL);
INSERT INTO setup_check VALUES (4, 1, 'brace_height', 'ok', NULL, '', 1001, X'580691AD7FAE60C084E85D0056DB8A31', 1005, NULL);
INSERT INTO setup_check VALUES (5, 1, 'limb_bolts_even', 'ok', NULL, '', 1001, X'C68534BD09A053824D58A78FF31F8CFA', 1006, NULL);
INSERT INTO setup_check VALUES (6, 1, 'cam_timing', 'ok', NULL, '', 1001, X'A6138EB718ADFD87865FC37A993D2449', 1007, NULL);
INSERT INTO setup_check VALUES (7, 1, 'cam_lean', 'ok', NULL, '', 1001, X'2D3DF2FFD9BF97CF8996A007F145F063', 1008, NULL);
INSERT INTO setup_check VALUES (8, 1, 'peep_true', 'ok', NULL, '', 1001, X'7CDF2CB6160785A3E6777E2D188E1866', 1009, NULL);
INSERT INTO setup_check VALUES (9, 1, 'nock_fit', 'ok', NULL, '', 1001, X'EDFAA0A5AAFD9A6E2D87BD571902FA0E', 1010, NULL);
INSERT INTO setup_check VALUES (10, 1, 'rest_sound', 'ok', NULL, '', 1001, X'49E439A8187D235E3ED8E39CEE29F2D3', 1011, NULL);
INSERT INTO setup_check VALUES (11, 1, 'centre_shot', 'ok', NULL, '', 1001, X'F95E1BB228FE646401F27893F2E76119', 1012, NULL);
INSERT INTO setup_check VALUES (12, 1, 'nocking_point', 'ok', NULL, '', 1001, X'E375F059C77D237D746BC27E45A089E0', 1013, NULL);
INSERT INTO setup_check VALUES (13, 1, 'arrow_spine', 'ok', NULL, '', 1001, X'D290C70F27A965AE1B6CA4312D298DD0', 1014, NULL);
INSERT INTO setup_check VALUES (14, 1, 'vane_clearance', 'ok', NULL, '', 1001, X'00D77C45F0F54717B34C02830FC08DF4', 1015, NULL);
INSERT INTO setup_check VALUES (15, 1, 'broadheads_true', 'ok', NULL, '', 1001, X'09EDE797960610C2300C7E2BD615FCAE', 1016, NULL);
INSERT INTO setup_check VALUES (16, 1, 'shooter_settled', 'ok', NULL, '', 1001, X'2A1D23D992D10225C60DF8BE7E167782', 1017, NULL);
INSERT INTO setup_check VALUES (17, 1, 'sight_set', 'ok', NULL, '', 1001, X'D96847A3E0C0FBEA2DAA32649A4E8024', 1018, NULL);
INSERT INTO setup_check VALUES (18, 1, 'axle_to_axle', 'open', NULL, '', 5000, X'6C27521053F7277175F0258D9CF4F57D', 5026, '"swap"');
INSERT INTO setup_check VALUES (19, 1, 'brace_height', 'open', NULL, '', 5000, X'ED712ECA4EDF94658BF6F923C9465A72', 5027, '"swap"');
INSERT INTO setup_check VALUES (20, 1, 'cam_timing', 'open', NULL, '', 5000, X'A111F7FD88C09CDDD45A93BDB7E6602F', 5028, '"swap"');
INSERT INTO setup_check VALUES (21, 1, 'cam_lean', 'open', NULL, '', 5000, X'B02902F4A5F1BE2E96EAC5370E26C74B', 5029, '"swap"');
INSERT INTO setup_check VALUES (22, 1, 'peep_true', 'open', NULL, '', 5000, X'FD383ADFB3B8A8A0C87266512874A121', 5030, '"swap"');
INSERT INTO setup_check VALUES (23, 1, 'centre_shot', 'open', NULL, '', 5000, X'DE0AA147D32852B7CBC3A4A414F0C21A', 5031, '"swap"');
INSERT INTO setup_check VALUES (24, 1, 'vane_clearance', 'open', NULL, '', 5000, X'26581BBDDBBA41D8C17D61740EE1745E', 5032, '"swap"');
INSERT INTO setup_check VALUES (25, 1, 'sight_set', 'open', NULL, '', 5000, X'AD23293FD19B4228CE9E826AD969D4C6', 5033, '"swap"');
INSERT INTO setup_check VALUES (26, 1, 'rest_sound', 'open', NULL, '', 5500, X'899D0AF091B6AADF3E639EBCA17EC050', 5501, '{"change":{"kind":"rest_moved"}}');
INSERT INTO setup_check VALUES (27, 1, 'centre_shot', 'open', NULL, '', 5500, X'6F694096991D213A4EABBFE352C2DEAB', 5502, '{"change":{"kind":"rest_moved"}}');
INSERT INTO setup_check VALUES (28, 1, 'vane_clearance', 'open', NULL, '', 5500, X'91425F8A89266DDC5139286AF0800375', 5503, '{"change":{"kind":"rest_moved"}}');
INSERT INTO setup_check VALUES (29, 1, 'sight_set', 'open', NULL, '', 5500, X'CE464566483B38BDD16AD20305050F3C', 5504, '{"change":{"kind":"rest_moved"}}');
INSERT INTO setup_change VALUES (1, 1, 'rest_moved', 0.4, 'a hair', 5500, X'D4CBC762EF084657BE5E45427D1C3C99', 5500, NULL, 0);
INSERT INTO trial VALUES (1, 1, 1, NULL, 'face', 18.288, 0.0, 0.0, 0, '{"form":2,"impacts":[{"kind":"fletched","at":{"x_mm":-9.0,"y_mm":6.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"fletched","at":{"x_mm":7.0,"y_mm":9.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"fletched","at":{"x_mm":4.0,"y_mm":-11.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"fletched","at":{"x_mm":-3.0,"y_mm":-5.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":81.0,"y_mm":6.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":97.0,"y_mm":9.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":94.0,"y_mm":-11.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":87.0,"y_mm":-5.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false}],"tears":[],"photo":null,"plane":null,"note":"calm","shooter":""}', 2000, X'45D61B2A6B43E4B7318879086DEDBA06', 2000, 2000, X'EE556CBD216155AFB1BFA7097FE26AAE', NULL);
INSERT INTO trial VALUES (2, 1, 2, NULL, 'paper', 1.8, 0.4, 0.0, 0, '{"form":2,"impacts":[],"tears":[{"kind":"fletched","tear":{"x_mm":-12.0,"y_mm":3.0},"sd_mm":0.8,"excluded":null,"px":null}],"photo":null,"plane":null,"note":"calm","shooter":""}', 6000, X'E9A2FF7579CCA3B403CC81B2160D82B4', 6000, 6000, X'C1F0880C2F58126CDDFFDD87A0289F34', NULL);
INSERT INTO clock VALUES (1, 7000);
INSERT INTO fitting_parent VALUES (2, 1);
INSERT INTO swap VALUES (1, NULL, 'verdict', 1, 4000, 5000, 5035, X'9FC7CEEAA8943590C71839089616EC9D');
CREATE INDEX bow_by_use ON bow (used_ms DESC);
CREATE INDEX bow_by_kit ON bow (kit_id);
CREATE INDEX arrow_setup_by_bow ON arrow_setup (bow_id);
CREATE INDEX fitting_by_bow ON fitting (bow_id, id);
CREATE INDEX setup_check_by_bow ON setup_check (bow_id, item, id);
CREATE INDEX setup_change_by_bow ON setup_change (bow_id, id);
CREATE INDEX trial_by_bow ON trial (bow_id, id);
CREATE UNIQUE INDEX kit_by_uid ON kit (uid);
CREATE UNIQUE INDEX bow_by_uid ON bow (uid);
CREATE UNIQUE INDEX arrow_setup_by_uid ON arrow_setup (uid);
CREATE UNIQUE INDEX trial_by_uid ON trial (uid);
CREATE UNIQUE INDEX verdict_by_uid ON verdict (uid);
CREATE UNIQUE INDEX fitting_by_uid ON fitting (uid);
CREATE INDEX fitting_parent_by_parent ON fitting_parent (parent_id);
CREATE UNIQUE INDEX setup_check_by_uid ON setup_check (uid);
CREATE UNIQUE INDEX setup_change_by_uid ON setup_change (uid);
CREATE INDEX verdict_by_bow ON verdict (bow_id, id, revision, outcome, more);
CREATE INDEX trial_by_standing ON trial (bow_id, struck_ms, id, fitting_id, born);
CREATE INDEX setup_check_to_judge ON setup_check (bow_id, item, id, state, measured)
    WHERE state = 'failed' OR measured IS NOT NULL;
CREATE INDEX setup_change_by_correction ON setup_change (corrects_id, id, struck) WHERE corrects_id IS NOT NULL;
CREATE INDEX setup_change_by_birth ON setup_change (bow_id, born, id) WHERE kind <> 'side_confirmed' AND corrects_id IS NULL;
CREATE TRIGGER known_bow_counts AFTER UPDATE ON bow
WHEN (OLD.family, OLD.rest_left_mm, OLD.rest_right_mm, OLD.remembered)
    IS NOT (NEW.family, NEW.rest_left_mm, NEW.rest_right_mm, NEW.remembered)
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.id; END;
CREATE TRIGGER check_counts AFTER INSERT ON setup_check
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER change_counts AFTER INSERT ON setup_change
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER fitting_counts AFTER INSERT ON fitting
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER trial_counts AFTER INSERT ON trial
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER corrected_trial_counts AFTER UPDATE ON trial
WHEN (OLD.bow_id, OLD.fitting_id, OLD.arrow_setup_id, OLD.surface, OLD.distance_m, OLD.rest_mm, OLD.nock_mm,
      OLD.epoch, OLD.struck_ms)
    IS NOT (NEW.bow_id, NEW.fitting_id, NEW.arrow_setup_id, NEW.surface, NEW.distance_m, NEW.rest_mm, NEW.nock_mm,
      NEW.epoch, NEW.struck_ms)
    -- The name of the photograph proves nothing.
    OR CASE WHEN json_valid(OLD.marks) AND json_valid(NEW.marks)
        THEN json_remove(OLD.marks, '$.photo') IS NOT json_remove(NEW.marks, '$.photo')
        ELSE OLD.marks <> NEW.marks END
BEGIN UPDATE bow SET revision = revision + 1 WHERE id IN (OLD.bow_id, NEW.bow_id); END;
CREATE TRIGGER arrows_count AFTER UPDATE OF setup ON arrow_setup WHEN OLD.setup <> NEW.setup
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER kit_counts AFTER UPDATE OF kit, owned ON kit WHEN OLD.kit <> NEW.kit OR OLD.owned <> NEW.owned
BEGIN UPDATE bow SET revision = revision + 1 WHERE kit_id = NEW.id; END;
CREATE TRIGGER bow_counts AFTER UPDATE ON bow
WHEN (OLD.kit_id, OLD.hand, OLD.axle_to_axle_mm, OLD.brace_height_mm, OLD.draw_weight_n, OLD.draw_length_mm,
      OLD.top_weight, OLD.priority, OLD.tolerance_mm, OLD.tolerance_distance_m, OLD.maker)
    IS NOT (NEW.kit_id, NEW.hand, NEW.axle_to_axle_mm, NEW.brace_height_mm, NEW.draw_weight_n, NEW.draw_length_mm,
      NEW.top_weight, NEW.priority, NEW.tolerance_mm, NEW.tolerance_distance_m, NEW.maker)
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.id; END;
CREATE TRIGGER fitting_is_append_only BEFORE UPDATE ON fitting
BEGIN SELECT RAISE(ABORT, 'the list of fittings is append-only'); END;
PRAGMA application_id = 1397247319;
PRAGMA user_version = 8;
