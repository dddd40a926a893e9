/// Claims, references, overrides, releases and corrections. A claim or override quotes the words it
/// is on and may outlive them, its measures and its events, so those carry no foreign key; what a
/// release says is a copy. `reference` in paragraph_anchor: a cite in a paragraph's words.
export const claims = `
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
) STRICT;

-- A published version, frozen.
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
) STRICT;

CREATE TABLE correction (
  id TEXT PRIMARY KEY,
  position INTEGER NOT NULL,
  release TEXT NOT NULL REFERENCES release (id) DEFERRABLE INITIALLY DEFERRED,
  date TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('draft', 'published')),
  note TEXT NOT NULL,
  changes TEXT NOT NULL
) STRICT;

ALTER TABLE paragraph_anchor ADD COLUMN reference TEXT;

CREATE INDEX claim_paragraph ON claim (paragraph);
CREATE INDEX anchor_reference ON paragraph_anchor (reference);
CREATE INDEX correction_release ON correction (release);
`
