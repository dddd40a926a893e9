-- Made by the migrations in main/store/migrations; format 10.

CREATE TABLE claim (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  quoted TEXT NOT NULL,
  paragraph TEXT GENERATED ALWAYS AS (quoted ->> '$.paragraph') STORED,
  classes TEXT NOT NULL,
  evidence TEXT,
  state TEXT NOT NULL CHECK (state IN ('confirmed', 'suggested')),
  stated_by TEXT,
  stated_when TEXT
, plate_values TEXT) STRICT;

CREATE TABLE clip (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  footage TEXT NOT NULL REFERENCES footage (id) DEFERRABLE INITIALLY DEFERRED,
  from_frame INTEGER NOT NULL,
  to_frame INTEGER NOT NULL CHECK (from_frame < to_frame),
  name TEXT,
  bout TEXT,
  technique TEXT,
  capture TEXT NOT NULL,
  mirrored INTEGER CHECK (mirrored IN (0, 1)),
  roll TEXT,
  picture TEXT,
  use TEXT
, hall TEXT) STRICT;

CREATE TABLE correction (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  release TEXT NOT NULL REFERENCES release (id) DEFERRABLE INITIALLY DEFERRED,
  date TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('draft', 'published')),
  note TEXT NOT NULL,
  changes TEXT NOT NULL
) STRICT;

CREATE TABLE cue (
  paragraph TEXT NOT NULL REFERENCES paragraph (id) DEFERRABLE INITIALLY DEFERRED,
  event TEXT NOT NULL,
  position INTEGER NOT NULL,
  seconds REAL NOT NULL,
  u REAL NOT NULL,
  PRIMARY KEY (paragraph, event)
) STRICT;

CREATE TABLE edit (
  sequence INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL CHECK (kind IN ('edit', 'undo', 'redo')),
  takes_back TEXT,
  label TEXT NOT NULL,
  merge TEXT,
  place TEXT NOT NULL,
  steps TEXT NOT NULL,
  inverse_steps TEXT NOT NULL,
  diffs TEXT NOT NULL,
  selection TEXT
) STRICT;

CREATE TABLE event (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  clip TEXT NOT NULL REFERENCES clip (id) DEFERRABLE INITIALLY DEFERRED,
  name TEXT NOT NULL,
  earliest INTEGER NOT NULL,
  latest INTEGER NOT NULL CHECK (earliest <= latest),
  definition TEXT
, markings TEXT) STRICT;

CREATE TABLE footage (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  file TEXT NOT NULL,
  sha256 TEXT,
  source TEXT
, fields TEXT, unlike TEXT) STRICT;

CREATE TABLE landmark (
  clip TEXT NOT NULL REFERENCES clip (id) DEFERRABLE INITIALLY DEFERRED,
  subject TEXT NOT NULL REFERENCES subject (id) DEFERRABLE INITIALLY DEFERRED,
  point TEXT NOT NULL,
  position INTEGER NOT NULL,
  PRIMARY KEY (clip, subject, point)
) STRICT;

CREATE TABLE landmark_pack (
  clip TEXT NOT NULL,
  subject TEXT NOT NULL,
  point TEXT NOT NULL,
  pack INTEGER NOT NULL,
  first INTEGER NOT NULL,
  last INTEGER NOT NULL CHECK (first <= last),
  samples TEXT NOT NULL,
  PRIMARY KEY (clip, subject, point, pack),
  FOREIGN KEY (clip, subject, point) REFERENCES landmark (clip, subject, point) DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE TABLE mark (
  paragraph TEXT NOT NULL,
  shot INTEGER NOT NULL,
  position INTEGER NOT NULL,
  body TEXT NOT NULL,
  measure TEXT GENERATED ALWAYS AS (CASE json_type(body) WHEN 'text' THEN body ->> '$' ELSE body ->> '$.plate' END) STORED,
  event TEXT GENERATED ALWAYS AS (CASE json_type(body) WHEN 'object' THEN body ->> '$.on' END) STORED,
  PRIMARY KEY (paragraph, shot, position),
  FOREIGN KEY (paragraph, shot) REFERENCES shot (paragraph, position) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE TABLE measure (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  body TEXT NOT NULL,
  kind TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.kind') STORED,
  clip TEXT GENERATED ALWAYS AS (body ->> '$.clip') STORED REFERENCES clip (id) DEFERRABLE INITIALLY DEFERRED,
  subject TEXT GENERATED ALWAYS AS (body ->> '$.subject') STORED REFERENCES subject (id) DEFERRABLE INITIALLY DEFERRED,
  frame INTEGER GENERATED ALWAYS AS (body ->> '$.frame') STORED
) STRICT;

CREATE TABLE override (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  finding TEXT NOT NULL,
  quoted TEXT,
  shot TEXT,
  problem TEXT NOT NULL,
  reason TEXT NOT NULL,
  stated_by TEXT NOT NULL,
  stated_when TEXT NOT NULL
, paragraph TEXT) STRICT;

CREATE TABLE pair_member (
  paragraph TEXT NOT NULL,
  shot INTEGER NOT NULL,
  position INTEGER NOT NULL,
  body TEXT NOT NULL,
  clip TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.clip') STORED REFERENCES clip (id) DEFERRABLE INITIALLY DEFERRED,
  event TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.event') STORED,
  PRIMARY KEY (paragraph, shot, position),
  FOREIGN KEY (paragraph, shot) REFERENCES shot (paragraph, position) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE TABLE paragraph (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  title TEXT,
  shots INTEGER CHECK (shots >= 0)
, narration TEXT) STRICT;

CREATE TABLE paragraph_anchor (
  paragraph TEXT NOT NULL REFERENCES paragraph (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  measure TEXT,
  event TEXT,
  word TEXT, reference TEXT,
  PRIMARY KEY (paragraph, position)
) STRICT;

CREATE TABLE project (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  title TEXT NOT NULL,
  question TEXT,
  output TEXT NOT NULL,
  sound TEXT,
  kept TEXT NOT NULL
, vocabulary TEXT) STRICT;

CREATE TABLE reading (
  measure TEXT PRIMARY KEY REFERENCES measure (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  body TEXT NOT NULL,
  value REAL GENERATED ALWAYS AS (body ->> '$.value') STORED,
  verdict TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.verdict') STORED
) STRICT;

CREATE TABLE reference (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  csl TEXT NOT NULL,
  finding TEXT,
  population TEXT,
  limits TEXT,
  setting TEXT,
  note TEXT
) STRICT;

CREATE TABLE release (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  film TEXT NOT NULL,
  version TEXT NOT NULL,
  date TEXT NOT NULL,
  put_up TEXT,
  project INTEGER NOT NULL,
  document TEXT,
  files TEXT NOT NULL,
  footage TEXT NOT NULL,
  said_values TEXT NOT NULL,
  said_events TEXT NOT NULL,
  said TEXT NOT NULL,
  note TEXT
, said_references TEXT, clips TEXT) STRICT;

CREATE TABLE script_snapshot (
  sequence INTEGER PRIMARY KEY,
  document TEXT NOT NULL
) STRICT;

CREATE TABLE shot (
  paragraph TEXT NOT NULL REFERENCES paragraph (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  body TEXT NOT NULL,
  kind TEXT NOT NULL GENERATED ALWAYS AS (CASE
    WHEN json_type(body, '$.run') IS NOT NULL THEN 'run'
    WHEN json_type(body, '$.hold') = 'text' AND json_type(body, '$.pair') IS NULL THEN 'hold'
    WHEN json_type(body, '$.pair') IS NOT NULL THEN 'pair'
    ELSE 'card' END) STORED,
  clip TEXT GENERATED ALWAYS AS (CASE WHEN json_type(body, '$.pair') IS NULL THEN coalesce(body ->> '$.run', body ->> '$.hold') END)
    STORED REFERENCES clip (id) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (paragraph, position)
) STRICT;

CREATE TABLE subject (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  name TEXT NOT NULL
) STRICT;

CREATE TABLE take (
  paragraph TEXT PRIMARY KEY REFERENCES paragraph (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  file TEXT NOT NULL
) STRICT;

CREATE TABLE view (
  clip TEXT NOT NULL REFERENCES clip (id) DEFERRABLE INITIALLY DEFERRED,
  subject TEXT NOT NULL REFERENCES subject (id) DEFERRABLE INITIALLY DEFERRED,
  from_frame INTEGER NOT NULL,
  to_frame INTEGER NOT NULL CHECK (from_frame < to_frame),
  position INTEGER NOT NULL,
  lead TEXT,
  yaw TEXT,
  elevation TEXT,
  PRIMARY KEY (clip, subject, from_frame)
) STRICT;

CREATE INDEX anchor_event ON paragraph_anchor (event);

CREATE INDEX anchor_measure ON paragraph_anchor (measure);

CREATE INDEX anchor_reference ON paragraph_anchor (reference);

CREATE INDEX claim_paragraph ON claim (paragraph);

CREATE INDEX clip_footage ON clip (footage);

CREATE INDEX correction_release ON correction (release);

CREATE INDEX event_clip ON event (clip);

CREATE INDEX mark_measure ON mark (measure);

CREATE INDEX measure_clip ON measure (clip);

CREATE INDEX pair_member_clip ON pair_member (clip);

CREATE INDEX shot_clip ON shot (clip);
