-- A workshop file as this version wrote it, with rows. Never edited.
PRAGMA foreign_keys = OFF;
CREATE TABLE kit (
    id    INTEGER PRIMARY KEY,
    kit   TEXT NOT NULL,               -- JSON: KitDraft, checked before it was written
    owned TEXT NOT NULL                -- JSON: sets owned per counted pair
) STRICT;
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
) STRICT;
CREATE TABLE arrow_setup (
    id     INTEGER PRIMARY KEY,
    bow_id INTEGER NOT NULL REFERENCES bow (id),
    name   TEXT NOT NULL,
    setup  TEXT NOT NULL               -- JSON: flight::ArrowSetup
, archived_ms INTEGER) STRICT;
CREATE TABLE verdict (
    id            INTEGER PRIMARY KEY,
    bow_id        INTEGER NOT NULL REFERENCES bow (id),
    fitting_id    INTEGER NOT NULL REFERENCES fitting (id),
    last_trial_id INTEGER REFERENCES trial (id),  -- the newest trial it used
    outcome       TEXT NOT NULL,       -- fit, keep, shoot_more, adjust_first
    more          TEXT,                -- JSON: arrows still wanted, for shoot_more
    given         TEXT NOT NULL,       -- JSON: the whole verdict and the trials it used
    at_ms         INTEGER NOT NULL
) STRICT;
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
) STRICT;
CREATE TABLE setup_check (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    item     TEXT NOT NULL,
    state    TEXT NOT NULL,
    measured REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
) STRICT;
CREATE TABLE setup_change (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    kind     TEXT NOT NULL,
    value_mm REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
) STRICT;
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
) STRICT;
CREATE TABLE swap (
    bow_id     INTEGER PRIMARY KEY REFERENCES bow (id),
    swap       TEXT NOT NULL,          -- JSON: swap::Swap
    reason     TEXT NOT NULL,
    verdict_id INTEGER REFERENCES verdict (id),
    started_ms INTEGER NOT NULL,
    touched_ms INTEGER NOT NULL
) STRICT;
CREATE TABLE camera (
    camera TEXT PRIMARY KEY,
    k1     REAL NOT NULL,
    at_ms  INTEGER NOT NULL
) STRICT;
CREATE TABLE settings (
    id       INTEGER PRIMARY KEY CHECK (id = 1),
    settings TEXT NOT NULL             -- JSON: WorkshopSettings
) STRICT;
INSERT INTO kit VALUES (1, '{"name":"Bench 4.4","total_mm":4.4,"tolerance_mm":0.05,"pairs":[{"name":"A","thin_mm":1.3,"thick_mm":3.1,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""},{"name":"B","thin_mm":1.6,"thick_mm":2.8,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""},{"name":"C","thin_mm":1.9,"thick_mm":2.5,"thin_measured_mm":null,"thick_measured_mm":null,"mark":""}]}', '[]');
INSERT INTO bow VALUES (1, 'Heron', 'rack 7', 'right', 838.0, NULL, NULL, NULL, 0.5, '', 1, '[]', NULL, NULL, '', 1000, 6000, NULL);
INSERT INTO arrow_setup VALUES (1, 1, 'Field', '{"shaft_length_mm":736.6,"diameter_mm":null,"total_mass_kg":null,"shaft_kg_per_m":null,"point_mass_kg":null,"insert_mass_kg":null,"nock_mass_kg":null,"balance_mm":null,"vanes":{"count":3,"length_mm":50.8,"height_mm":12.7,"sweep_mm":null,"from_nock_mm":25.4,"mass_kg":0.000454},"broadhead":{"blades":3,"cut_mm":27.0,"blade_mm":25.4,"mass_kg":null},"static_spine":null,"speed_mps":null}', 7000);
INSERT INTO verdict VALUES (1, 1, 1, 1, 'fit', NULL, '{"verdict":{"call":{"fit":{"fitting":{"top":{"pair":"C","thick":"right"},"bottom":{"pair":"C","thick":"right"}}}},"splits":[{"kind":"bare","distance_m":18.288,"x_mm":90.0,"y_mm":0.0,"sd_x_mm":11.533239663808997,"sd_y_mm":12.270125275876943,"p":0.00010679590885686861,"is_real":true,"probe_arrows":4,"reference_arrows":4}],"response":{"mm_per_mm":84.71733712909904,"sd":88.73621629027178,"wrong_way_chance":0.04314187935281583,"seen_on_this_bow":false},"predicted":{"kind":"bare","distance_m":18.288,"x_mm":36.868298247893776,"sd_mm":53.505621570265944,"low80_mm":-28.843287238691172,"high80_mm":83.66295964341344,"low95_mm":-108.00419937537916,"high95_mm":107.44132897457375,"within_tolerance":0.17999273660643125},"predictions":[{"kind":"bare","distance_m":18.288,"x_mm":36.868298247893776,"sd_mm":53.505621570265944,"low80_mm":-28.843287238691172,"high80_mm":83.66295964341344,"low95_mm":-108.00419937537916,"high95_mm":107.44132897457375,"within_tolerance":0.17999273660643125}],"options":[{"fitting":{"top":{"pair":"C","thick":"right"},"bottom":{"pair":"C","thick":"right"}},"offset_mm":-0.30000000000000004,"tilt_mm":0.0,"axles_opened":2,"x_mm":36.868298247893776,"sd_mm":53.505621570265944,"within_tolerance":0.17999273660643125,"loss_mm":66.65678994147973},{"fitting":{"top":{"pair":"B","thick":"right"},"bottom":{"pair":"B","thick":"right"}},"offset_mm":-0.5999999999999999,"tilt_mm":0.0,"axles_opened":2,"x_mm":11.453097109164085,"sd_mm":79.72264910316808,"within_tolerance":0.22928319661614316,"loss_mm":70.76005364666952},{"fitting":{"top":{"pair":"A","thick":"right"},"bottom":{"pair":"A","thick":"right"}},"offset_mm":-0.9,"tilt_mm":0.0,"axles_opened":2,"x_mm":-13.962104029565639,"sd_mm":106.14090123560158,"within_tolerance":0.24338301188990186,"loss_mm":82.42848650801089},{"fitting":{"top":{"pair":"C","thick":"left"},"bottom":{"pair":"C","thick":"left"}},"offset_mm":0.30000000000000004,"tilt_mm":0.0,"axles_opened":0,"x_mm":87.69870052535323,"sd_mm":11.36555070488383,"within_tolerance":1.6887264587584908e-8,"loss_mm":87.69870052535323},{"fitting":{"top":{"pair":"B","thick":"left"},"bottom":{"pair":"B","thick":"left"}},"offset_mm":0.5999999999999999,"tilt_mm":0.0,"axles_opened":2,"x_mm":113.11390166408297,"sd_mm":29.80518724041882,"within_tolerance":0.000383172268925407,"loss_mm":124.11516317240562},{"fitting":{"top":{"pair":"A","thick":"left"},"bottom":{"pair":"A","thick":"left"}},"offset_mm":0.9,"tilt_mm":0.0,"axles_opened":2,"x_mm":138.52910280281267,"sd_mm":55.361209566988904,"within_tolerance":0.0034401501392973513,"loss_mm":149.58663252235715}],"reasons":[{"fitting_pays":{"now_mm":87.69870052535323,"after_mm":55.65678994147973,"axles":2}},{"split_is_real":{"kind":"bare","x_mm":90.0,"sd_mm":11.533239663808997,"p":0.00010679590885686861}},"not_yet_seen_on_this_bow","cam_direction_disputed",{"vertical_explained":{"kind":"bare","y_mm":15.50171832557291}},{"not_yet_shot":{"kind":"broadhead"}}]},"trial_ids":[1]}', 3000);
INSERT INTO fitting VALUES (1, 1, 1, 'C', 'left', 'C', 'left', 'taken_in', NULL, NULL, 1000);
INSERT INTO fitting VALUES (2, 1, 1, 'A', 'right', 'A', 'right', 'verdict', 1, NULL, 5000);
INSERT INTO setup_check VALUES (1, 1, 'limb_damage', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (2, 1, 'string_and_cables', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (3, 1, 'axle_to_axle', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (4, 1, 'brace_height', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (5, 1, 'limb_bolts_even', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (6, 1, 'cam_timing', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (7, 1, 'cam_lean', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (8, 1, 'nock_fit', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (9, 1, 'rest_sound', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (10, 1, 'centre_shot', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (11, 1, 'nocking_point', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (12, 1, 'arrow_spine', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (13, 1, 'vane_clearance', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (14, 1, 'broadheads_true', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (15, 1, 'shooter_settled', 'ok', NULL, '', 1001);
INSERT INTO setup_check VALUES (16, 1, 'rest_sound', 'open', NULL, '', 5500);
INSERT INTO setup_change VALUES (1, 1, 'rest_moved', 0.4, 'a hair', 5500);
INSERT INTO trial VALUES (1, 1, 1, NULL, 'face', 18.288, 0.0, 0.0, 0, '{"impacts":[{"kind":"fletched","at":{"x_mm":-9.0,"y_mm":6.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"fletched","at":{"x_mm":7.0,"y_mm":9.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"fletched","at":{"x_mm":4.0,"y_mm":-11.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"fletched","at":{"x_mm":-3.0,"y_mm":-5.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"bare","at":{"x_mm":81.0,"y_mm":6.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"bare","at":{"x_mm":97.0,"y_mm":9.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"bare","at":{"x_mm":94.0,"y_mm":-11.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null},{"kind":"bare","at":{"x_mm":87.0,"y_mm":-5.0},"sd_mm":1.5,"px":null,"snapped":false,"arrow_number":null,"excluded":null}],"tears":[],"photo":null,"plane":null,"note":"calm"}', 2000);
INSERT INTO trial VALUES (2, 1, 2, NULL, 'paper', 1.8, 0.4, 0.0, 0, '{"impacts":[],"tears":[{"kind":"fletched","tear":{"x_mm":-12.0,"y_mm":3.0},"sd_mm":0.8,"excluded":null}],"photo":null,"plane":null,"note":"calm"}', 6000);
CREATE INDEX bow_by_use ON bow (used_ms DESC);
CREATE INDEX bow_by_kit ON bow (kit_id);
CREATE INDEX arrow_setup_by_bow ON arrow_setup (bow_id);
CREATE INDEX verdict_by_bow ON verdict (bow_id, id);
CREATE INDEX fitting_by_bow ON fitting (bow_id, id);
CREATE TRIGGER fitting_is_append_only BEFORE UPDATE ON fitting
BEGIN SELECT RAISE(ABORT, 'the list of fittings is append-only'); END;
CREATE INDEX setup_check_by_bow ON setup_check (bow_id, item, id);
CREATE INDEX setup_change_by_bow ON setup_change (bow_id, id);
CREATE INDEX trial_by_bow ON trial (bow_id, id);
PRAGMA application_id = 1397247319;
PRAGMA user_version = 2;
