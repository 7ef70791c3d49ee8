-- A workshop file as this version wrote it, with rows. Never edited.
PRAGMA foreign_keys = OFF;
CREATE TABLE kit (
    id    INTEGER PRIMARY KEY,
    kit   TEXT NOT NULL,               -- JSON: KitDraft, checked before it was written
    owned TEXT NOT NULL                -- JSON: sets owned per counted pair
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB) STRICT;
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
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB) STRICT;
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
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0) STRICT;
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
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE setup_change (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    kind     TEXT NOT NULL,
    value_mm REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0) STRICT;
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
, uid BLOB CHECK (length(uid) = 16), born INTEGER NOT NULL DEFAULT 0, tick INTEGER NOT NULL DEFAULT 0, mark BLOB) STRICT;
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
INSERT INTO kit VALUES (1, '{"form":1,"name":"Bench 4.4","total_mm":4.4,"tolerance_mm":0.05,"pairs":[{"name":"A","thin_mm":1.3,"thick_mm":3.1,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""},{"name":"B","thin_mm":1.6,"thick_mm":2.8,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""},{"name":"C","thin_mm":1.9,"thick_mm":2.5,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""}]}', '[]', X'6CC4F0E930B34481D03A4134331852EA', 1, 1, X'B64C0D4EC2AF5ABA75D0E38754BD4DA2');
INSERT INTO bow VALUES (1, 'Heron', 'rack 7', 'right', 838.0, NULL, NULL, NULL, 0.5, '', 1, '[]', NULL, NULL, '', 1000, 6000, NULL, X'3A1882A09A3466322CC78C317B8CDDFD', 1000, 1000, X'33B3703984C90890B57F450DDE6A1CB7');
INSERT INTO arrow_setup VALUES (1, 1, 'Field', '{"form":1,"shaft_length_mm":736.6,"diameter_mm":null,"total_mass_kg":null,"shaft_kg_per_m":null,"point_mass_kg":null,"insert_mass_kg":null,"nock_mass_kg":null,"balance_mm":null,"vanes":{"count":3,"length_mm":50.8,"height_mm":12.7,"sweep_mm":null,"from_nock_mm":25.4,"mass_kg":0.000454},"broadhead":{"blades":3,"cut_mm":27.0,"blade_mm":25.4,"mass_kg":null},"static_spine":null,"speed_mps":null}', 7000, X'D07B500712DE58ED65D7198D59FBE4C9', 6001, 7000, X'404CEC5A1508EB5EF440D3C02954E0F6');
INSERT INTO verdict VALUES (1, 1, 1, 1, 'fit', NULL, '{"form":1,"verdict":{"call":{"fit":{"fitting":{"top":{"pair":"C","thick":"right"},"bottom":{"pair":"C","thick":"right"}}}},"splits":[{"kind":"bare","distance_m":18.288,"x_mm":90.0,"y_mm":0.0,"sd_x_mm":11.533239663808997,"sd_y_mm":12.270125275876943,"p":0.00010679590885686861,"is_real":true,"probe_arrows":4,"reference_arrows":4}],"response":{"mm_per_mm":84.71733712909904,"sd":88.73621629027178,"wrong_way_chance":0.04314187935281583,"seen_on_this_bow":false},"predicted":{"kind":"bare","distance_m":18.288,"x_mm":36.868298247893776,"sd_mm":53.505621570265944,"low80_mm":-28.843287238691172,"high80_mm":83.66295964341344,"low95_mm":-108.00419937537916,"high95_mm":107.44132897457375,"within_tolerance":0.17999273660643125},"predictions":[{"kind":"bare","distance_m":18.288,"x_mm":36.868298247893776,"sd_mm":53.505621570265944,"low80_mm":-28.843287238691172,"high80_mm":83.66295964341344,"low95_mm":-108.00419937537916,"high95_mm":107.44132897457375,"within_tolerance":0.17999273660643125}],"options":[{"fitting":{"top":{"pair":"C","thick":"right"},"bottom":{"pair":"C","thick":"right"}},"offset_mm":-0.30000000000000004,"tilt_mm":0.0,"axles_opened":2,"x_mm":36.868298247893776,"sd_mm":53.505621570265944,"within_tolerance":0.17999273660643125,"loss_mm":66.65678994147973},{"fitting":{"top":{"pair":"B","thick":"right"},"bottom":{"pair":"B","thick":"right"}},"offset_mm":-0.5999999999999999,"tilt_mm":0.0,"axles_opened":2,"x_mm":11.453097109164085,"sd_mm":79.72264910316808,"within_tolerance":0.22928319661614316,"loss_mm":70.76005364666952},{"fitting":{"top":{"pair":"A","thick":"right"},"bottom":{"pair":"A","thick":"right"}},"offset_mm":-0.9,"tilt_mm":0.0,"axles_opened":2,"x_mm":-13.962104029565639,"sd_mm":106.14090123560158,"within_tolerance":0.24338301188990186,"loss_mm":82.42848650801089},{"fitting":{"top":{"pair":"C","thick":"left"},"bottom":{"pair":"C","thick":"left"}},"offset_mm":0.30000000000000004,"tilt_mm":0.0,"axles_opened":0,"x_mm":87.69870052535323,"sd_mm":11.36555070488383,"within_tolerance":1.6887264587584908e-8,"loss_mm":87.69870052535323},{"fitting":{"top":{"pair":"B","thick":"left"},"bottom":{"pair":"B","thick":"left"}},"offset_mm":0.5999999999999999,"tilt_mm":0.0,"axles_opened":2,"x_mm":113.11390166408297,"sd_mm":29.80518724041882,"within_tolerance":0.000383172268925407,"loss_mm":124.11516317240562},{"fitting":{"top":{"pair":"A","thick":"left"},"bottom":{"pair":"A","thick":"left"}},"offset_mm":0.9,"tilt_mm":0.0,"axles_opened":2,"x_mm":138.52910280281267,"sd_mm":55.361209566988904,"within_tolerance":0.0034401501392973513,"loss_mm":149.58663252235715}],"reasons":[{"fitting_pays":{"after_mm":55.65678994147973,"axles":2,"now_mm":87.69870052535323}},{"split_is_real":{"kind":"bare","p":0.00010679590885686861,"sd_mm":11.533239663808997,"x_mm":90.0}},"not_yet_seen_on_this_bow","cam_direction_disputed",{"vertical_explained":{"kind":"bare","y_mm":15.50171832557291}},{"not_yet_shot":{"kind":"broadhead"}}]},"trial_ids":[1]}', 3000, X'A106A6920865B56FA1CED41DDBBCCDE6', 3000);
INSERT INTO fitting VALUES (1, 1, 1, 'C', 'left', 'C', 'left', 'taken_in', NULL, NULL, 1000, X'1CCA7B2650C531168B2FB21070C5E3FE', 1001);
INSERT INTO fitting VALUES (2, 1, 1, 'A', 'right', 'A', 'right', 'verdict', 1, NULL, 5000, X'C4578579CD39C47769ADB9FFED508AA8', 5026);
INSERT INTO setup_check VALUES (1, 1, 'limb_damage', 'ok', NULL, '', 1001, X'CB1403F5F9F7F6B0A69315D85FFAF5AE', 1002);
INSERT INTO setup_check VALUES (2, 1, 'string_and_cables', 'ok', NULL, '', 1001, X'AD6F4C686AB56265AC53A33BD880D315', 1003);
INSERT INTO setup_check VALUES (3, 1, 'axle_to_axle', 'ok', NULL, '', 1001, X'248989661258F5ABEA2C4F37651AD920', 1004);
INSERT INTO setup_check VALUES (4, 1, 'brace_height', 'ok', NULL, '', 1001, X'580691AD7FAE60C084E85D0056DB8A31', 1005);
INSERT INTO setup_check VALUES (5, 1, 'limb_bolts_even', 'ok', NULL, '', 1001, X'C68534BD09A053824D58A78FF31F8CFA', 1006);
INSERT INTO setup_check VALUES (6, 1, 'cam_timing', 'ok', NULL, '', 1001, X'A6138EB718ADFD87865FC37A993D2449', 1007);
INSERT INTO setup_check VALUES (7, 1, 'cam_lean', 'ok', NULL, '', 1001, X'2D3DF2FFD9BF97CF8996A007F145F063', 1008);
INSERT INTO setup_check VALUES (8, 1, 'nock_fit', 'ok', NULL, '', 1001, X'7CDF2CB6160785A3E6777E2D188E1866', 1009);
INSERT INTO setup_check VALUES (9, 1, 'rest_sound', 'ok', NULL, '', 1001, X'EDFAA0A5AAFD9A6E2D87BD571902FA0E', 1010);
INSERT INTO setup_check VALUES (10, 1, 'centre_shot', 'ok', NULL, '', 1001, X'49E439A8187D235E3ED8E39CEE29F2D3', 1011);
INSERT INTO setup_check VALUES (11, 1, 'nocking_point', 'ok', NULL, '', 1001, X'F95E1BB228FE646401F27893F2E76119', 1012);
INSERT INTO setup_check VALUES (12, 1, 'arrow_spine', 'ok', NULL, '', 1001, X'E375F059C77D237D746BC27E45A089E0', 1013);
INSERT INTO setup_check VALUES (13, 1, 'vane_clearance', 'ok', NULL, '', 1001, X'D290C70F27A965AE1B6CA4312D298DD0', 1014);
INSERT INTO setup_check VALUES (14, 1, 'broadheads_true', 'ok', NULL, '', 1001, X'00D77C45F0F54717B34C02830FC08DF4', 1015);
INSERT INTO setup_check VALUES (15, 1, 'shooter_settled', 'ok', NULL, '', 1001, X'09EDE797960610C2300C7E2BD615FCAE', 1016);
INSERT INTO setup_check VALUES (16, 1, 'rest_sound', 'open', NULL, '', 5500, X'D19CD29FFA35BA202F366747F936B775', 5501);
INSERT INTO setup_change VALUES (1, 1, 'rest_moved', 0.4, 'a hair', 5500, X'D06086D4E1AAD3F9FA58DB199251947B', 5500);
INSERT INTO trial VALUES (1, 1, 1, NULL, 'face', 18.288, 0.0, 0.0, 0, '{"form":1,"impacts":[{"kind":"fletched","at":{"x_mm":-9.0,"y_mm":6.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"fletched","at":{"x_mm":7.0,"y_mm":9.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"fletched","at":{"x_mm":4.0,"y_mm":-11.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"fletched","at":{"x_mm":-3.0,"y_mm":-5.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":81.0,"y_mm":6.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":97.0,"y_mm":9.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":94.0,"y_mm":-11.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false},{"kind":"bare","at":{"x_mm":87.0,"y_mm":-5.0},"sd_mm":1.5,"px":null,"arrow_number":null,"excluded":null,"snapped":false}],"tears":[],"photo":null,"plane":null,"note":"calm"}', 2000, X'7AFFBCBC6B59D8DA487991CBD6AB1F9D', 2000, 2000, X'6ACF8F531F2BF3E5A610EC1CC7181EDA');
INSERT INTO trial VALUES (2, 1, 2, NULL, 'paper', 1.8, 0.4, 0.0, 0, '{"form":1,"impacts":[],"tears":[{"kind":"fletched","tear":{"x_mm":-12.0,"y_mm":3.0},"sd_mm":0.8,"excluded":null}],"photo":null,"plane":null,"note":"calm"}', 6000, X'2E7FEB3FD3AC5FEDF0EF3A41E9A06EAA', 6000, 6000, X'7606E46CF4BC251DF1A53D5F5095C998');
INSERT INTO clock VALUES (1, 7000);
INSERT INTO fitting_parent VALUES (2, 1);
INSERT INTO swap VALUES (1, NULL, 'verdict', 1, 4000, 5000, 5027, X'ECEACC2604E87941D210DF28F1E64D7D');
CREATE INDEX bow_by_use ON bow (used_ms DESC);
CREATE INDEX bow_by_kit ON bow (kit_id);
CREATE INDEX arrow_setup_by_bow ON arrow_setup (bow_id);
CREATE INDEX verdict_by_bow ON verdict (bow_id, id);
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
CREATE TRIGGER fitting_is_append_only BEFORE UPDATE ON fitting
BEGIN SELECT RAISE(ABORT, 'the list of fittings is append-only'); END;
PRAGMA application_id = 1397247319;
PRAGMA user_version = 3;
