BEGIN TRANSACTION;
CREATE TABLE evenings (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL,
        date TEXT NOT NULL,
        start INTEGER NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    );
INSERT INTO "evenings" VALUES(1,'Club evening','2026-01-02',1110,1);
CREATE TABLE figures (
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        name TEXT NOT NULL,
        value REAL NOT NULL,
        UNIQUE (plan, name)
    );
INSERT INTO "figures" VALUES(1,1,'level_gap_sum',18.5);
INSERT INTO "figures" VALUES(2,1,'level_gap_count',6.0);
INSERT INTO "figures" VALUES(3,1,'level_gap_max',4.5);
INSERT INTO "figures" VALUES(4,1,'back_to_back_rests',1.0);
INSERT INTO "figures" VALUES(5,1,'wishes_missed',0.0);
CREATE TABLE lengths (
        id INTEGER PRIMARY KEY,
        set_format TEXT NOT NULL,
        game_format TEXT NOT NULL,
        minutes REAL NOT NULL CHECK (minutes > 0),
        recording INTEGER NOT NULL REFERENCES recordings
    );
CREATE TABLE matches (
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        key TEXT NOT NULL,
        round INTEGER NOT NULL,
        court TEXT NOT NULL,
        a1 INTEGER NOT NULL REFERENCES people,
        a2 INTEGER NOT NULL REFERENCES people,
        b1 INTEGER NOT NULL REFERENCES people,
        b2 INTEGER NOT NULL REFERENCES people,
        UNIQUE (plan, key)
    );
INSERT INTO "matches" VALUES(1,1,'R2C1',2,'Court 1',9,7,1,8);
INSERT INTO "matches" VALUES(2,1,'R2C2',2,'Court 2',10,6,2,5);
INSERT INTO "matches" VALUES(3,1,'R3C1',3,'Court 1',5,3,4,9);
INSERT INTO "matches" VALUES(4,1,'R3C2',3,'Court 2',2,8,7,6);
INSERT INTO "matches" VALUES(5,1,'R4C1',4,'Court 1',3,4,5,8);
INSERT INTO "matches" VALUES(6,1,'R4C2',4,'Court 2',2,7,6,10);
CREATE TABLE meetings (
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        person INTEGER NOT NULL REFERENCES people,
        other INTEGER NOT NULL REFERENCES people,
        partners INTEGER NOT NULL CHECK (partners >= 0),
        opponents INTEGER NOT NULL CHECK (opponents >= 0),
        drills INTEGER NOT NULL CHECK (drills >= 0),
        UNIQUE (plan, person, other),
        CHECK (person < other)
    );
INSERT INTO "meetings" VALUES(1,1,1,4,0,0,1);
INSERT INTO "meetings" VALUES(2,1,1,6,0,0,1);
INSERT INTO "meetings" VALUES(3,1,1,7,0,1,1);
INSERT INTO "meetings" VALUES(4,1,1,8,1,0,0);
INSERT INTO "meetings" VALUES(5,1,1,9,0,1,1);
INSERT INTO "meetings" VALUES(6,1,2,3,0,0,1);
INSERT INTO "meetings" VALUES(7,1,2,5,1,0,1);
INSERT INTO "meetings" VALUES(8,1,2,6,0,3,0);
INSERT INTO "meetings" VALUES(9,1,2,7,1,1,0);
INSERT INTO "meetings" VALUES(10,1,2,8,1,0,1);
INSERT INTO "meetings" VALUES(11,1,2,10,0,2,1);
INSERT INTO "meetings" VALUES(12,1,3,4,1,1,0);
INSERT INTO "meetings" VALUES(13,1,3,5,1,1,1);
INSERT INTO "meetings" VALUES(14,1,3,8,0,1,1);
INSERT INTO "meetings" VALUES(15,1,3,9,0,1,0);
INSERT INTO "meetings" VALUES(16,1,3,10,0,0,1);
INSERT INTO "meetings" VALUES(17,1,4,5,0,2,0);
INSERT INTO "meetings" VALUES(18,1,4,6,0,0,1);
INSERT INTO "meetings" VALUES(19,1,4,7,0,0,1);
INSERT INTO "meetings" VALUES(20,1,4,8,0,1,0);
INSERT INTO "meetings" VALUES(21,1,4,9,1,0,1);
INSERT INTO "meetings" VALUES(22,1,5,6,0,1,0);
INSERT INTO "meetings" VALUES(23,1,5,8,1,0,1);
INSERT INTO "meetings" VALUES(24,1,5,9,0,1,0);
INSERT INTO "meetings" VALUES(25,1,5,10,0,1,1);
INSERT INTO "meetings" VALUES(26,1,6,7,1,1,1);
INSERT INTO "meetings" VALUES(27,1,6,8,0,1,0);
INSERT INTO "meetings" VALUES(28,1,6,9,0,0,1);
INSERT INTO "meetings" VALUES(29,1,6,10,2,0,0);
INSERT INTO "meetings" VALUES(30,1,7,8,0,2,0);
INSERT INTO "meetings" VALUES(31,1,7,9,1,0,1);
INSERT INTO "meetings" VALUES(32,1,7,10,0,1,0);
INSERT INTO "meetings" VALUES(33,1,8,9,0,1,0);
INSERT INTO "meetings" VALUES(34,1,8,10,0,0,1);
CREATE TABLE merges (
        id INTEGER PRIMARY KEY,
        person INTEGER NOT NULL UNIQUE REFERENCES people,
        into_person INTEGER NOT NULL REFERENCES people,
        recording INTEGER NOT NULL REFERENCES recordings,
        CHECK (person <> into_person)
    );
CREATE TABLE people (
        id INTEGER PRIMARY KEY,
        recording INTEGER NOT NULL REFERENCES recordings
    );
INSERT INTO "people" VALUES(1,1);
INSERT INTO "people" VALUES(2,1);
INSERT INTO "people" VALUES(3,1);
INSERT INTO "people" VALUES(4,1);
INSERT INTO "people" VALUES(5,1);
INSERT INTO "people" VALUES(6,1);
INSERT INTO "people" VALUES(7,1);
INSERT INTO "people" VALUES(8,1);
INSERT INTO "people" VALUES(9,1);
INSERT INTO "people" VALUES(10,1);
CREATE TABLE plans (
        id INTEGER PRIMARY KEY,
        evening INTEGER NOT NULL REFERENCES evenings,
        plan_id TEXT NOT NULL,
        revision INTEGER NOT NULL,
        set_format TEXT NOT NULL,
        document TEXT NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    );
INSERT INTO "plans" VALUES(1,1,'eb558642f32f',1,'tie-break set','{
 "schema": "doubles-rota-plan/1",
 "event": {
  "name": "Club evening",
  "date": "2026-01-02",
  "start": "18:30"
 },
 "seed": 1,
 "effort": "normal",
 "version": "",
 "revision": 1,
 "id": "eb558642f32f",
 "players": [
  {
   "name": "Ada Birch",
   "level": 3.0,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Bruno Cole",
   "level": 3.5,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Chiara Dune",
   "level": 4.0,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Dmitri Elm",
   "level": 4.5,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Elif Frost",
   "level": 5.0,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Farid Glen",
   "level": 5.5,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Greta Holm",
   "level": 6.0,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Hugo Iver",
   "level": 6.5,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Inês Jade",
   "level": 7.0,
   "group": "",
   "side": "either",
   "hand": "right"
  },
  {
   "name": "Jón Kelp",
   "level": 7.5,
   "group": "",
   "side": "either",
   "hand": "right"
  }
 ],
 "courts": [
  "Court 1",
  "Court 2"
 ],
 "rounds": [
  {
   "round": 1,
   "kind": "drill",
   "start": "18:30",
   "minutes": 25,
   "courts": [
    {
     "court": "Court 1",
     "group": [
      "Dmitri Elm",
      "Inês Jade",
      "Farid Glen",
      "Ada Birch",
      "Greta Holm"
     ]
    },
    {
     "court": "Court 2",
     "group": [
      "Chiara Dune",
      "Hugo Iver",
      "Bruno Cole",
      "Elif Frost",
      "Jón Kelp"
     ]
    }
   ],
   "resting": [],
   "absent": []
  },
  {
   "round": 2,
   "kind": "doubles",
   "start": "18:55",
   "minutes": 25,
   "courts": [
    {
     "court": "Court 1",
     "team_a": [
      "Inês Jade",
      "Greta Holm"
     ],
     "team_b": [
      "Ada Birch",
      "Hugo Iver"
     ],
     "serving_order": [
      "Inês Jade",
      "Ada Birch",
      "Greta Holm",
      "Hugo Iver"
     ],
     "deuce_receivers": [
      "Inês Jade",
      "Ada Birch"
     ]
    },
    {
     "court": "Court 2",
     "team_a": [
      "Jón Kelp",
      "Farid Glen"
     ],
     "team_b": [
      "Bruno Cole",
      "Elif Frost"
     ],
     "serving_order": [
      "Jón Kelp",
      "Bruno Cole",
      "Farid Glen",
      "Elif Frost"
     ],
     "deuce_receivers": [
      "Jón Kelp",
      "Bruno Cole"
     ]
    }
   ],
   "resting": [
    "Chiara Dune",
    "Dmitri Elm"
   ],
   "absent": []
  },
  {
   "round": 3,
   "kind": "doubles",
   "start": "19:20",
   "minutes": 25,
   "courts": [
    {
     "court": "Court 1",
     "team_a": [
      "Elif Frost",
      "Chiara Dune"
     ],
     "team_b": [
      "Dmitri Elm",
      "Inês Jade"
     ],
     "serving_order": [
      "Elif Frost",
      "Dmitri Elm",
      "Chiara Dune",
      "Inês Jade"
     ],
     "deuce_receivers": [
      "Elif Frost",
      "Dmitri Elm"
     ]
    },
    {
     "court": "Court 2",
     "team_a": [
      "Bruno Cole",
      "Hugo Iver"
     ],
     "team_b": [
      "Greta Holm",
      "Farid Glen"
     ],
     "serving_order": [
      "Bruno Cole",
      "Greta Holm",
      "Hugo Iver",
      "Farid Glen"
     ],
     "deuce_receivers": [
      "Bruno Cole",
      "Greta Holm"
     ]
    }
   ],
   "resting": [
    "Jón Kelp",
    "Ada Birch"
   ],
   "absent": []
  },
  {
   "round": 4,
   "kind": "doubles",
   "start": "19:45",
   "minutes": 25,
   "courts": [
    {
     "court": "Court 1",
     "team_a": [
      "Chiara Dune",
      "Dmitri Elm"
     ],
     "team_b": [
      "Elif Frost",
      "Hugo Iver"
     ],
     "serving_order": [
      "Chiara Dune",
      "Elif Frost",
      "Dmitri Elm",
      "Hugo Iver"
     ],
     "deuce_receivers": [
      "Chiara Dune",
      "Elif Frost"
     ]
    },
    {
     "court": "Court 2",
     "team_a": [
      "Bruno Cole",
      "Greta Holm"
     ],
     "team_b": [
      "Farid Glen",
      "Jón Kelp"
     ],
     "serving_order": [
      "Bruno Cole",
      "Farid Glen",
      "Greta Holm",
      "Jón Kelp"
     ],
     "deuce_receivers": [
      "Bruno Cole",
      "Farid Glen"
     ]
    }
   ],
   "resting": [
    "Ada Birch",
    "Inês Jade"
   ],
   "absent": []
  }
 ],
 "measures": {},
 "warnings": [],
 "event_in_full": {
  "name": "Club evening",
  "start": 1110,
  "players": [
   {
    "name": "Ada Birch",
    "level": 3.0,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Bruno Cole",
    "level": 3.5,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Chiara Dune",
    "level": 4.0,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Dmitri Elm",
    "level": 4.5,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Elif Frost",
    "level": 5.0,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Farid Glen",
    "level": 5.5,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Greta Holm",
    "level": 6.0,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Hugo Iver",
    "level": 6.5,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Inês Jade",
    "level": 7.0,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   },
   {
    "name": "Jón Kelp",
    "level": 7.5,
    "group": "",
    "hand": "right",
    "side": "either",
    "arrives": null,
    "leaves": null,
    "here": "yes",
    "note": "",
    "level_given": true
   }
  ],
  "courts": [
   {
    "name": "Court 1",
    "opens": null,
    "closes": null
   },
   {
    "name": "Court 2",
    "opens": null,
    "closes": null
   }
  ],
  "rounds": [
   {
    "kind": "drill",
    "start": 1110,
    "minutes": 25,
    "topic": "",
    "group_size": 4,
    "levels": null,
    "courts": null
   },
   {
    "kind": "doubles",
    "start": 1135,
    "minutes": 25,
    "topic": "",
    "group_size": 4,
    "levels": null,
    "courts": null
   },
   {
    "kind": "doubles",
    "start": 1160,
    "minutes": 25,
    "topic": "",
    "group_size": 4,
    "levels": null,
    "courts": null
   },
   {
    "kind": "doubles",
    "start": 1185,
    "minutes": 25,
    "topic": "",
    "group_size": 4,
    "levels": null,
    "courts": null
   }
  ],
  "date": "2026-01-02",
  "wishes": [],
  "stations": [],
  "earlier": [],
  "emphasis": "blend",
  "exchange": 2.0,
  "spare_court": "rest",
  "set_format": "tie-break set",
  "game_format": "ad",
  "end_changes": "six",
  "changeover": 0,
  "until": null,
  "notes": "",
  "changes": []
 }
}
',1);
CREATE TABLE presence (
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        position INTEGER NOT NULL,
        person INTEGER NOT NULL REFERENCES people,
        name TEXT NOT NULL,
        level REAL NOT NULL,
        level_given INTEGER NOT NULL CHECK (level_given IN (0, 1)),
        rounds INTEGER NOT NULL,
        rests INTEGER NOT NULL,
        fair_rests REAL NOT NULL,
        matches INTEGER NOT NULL,
        first_serves INTEGER NOT NULL,
        UNIQUE (plan, position),
        UNIQUE (plan, person)
    );
INSERT INTO "presence" VALUES(1,1,1,1,'Ada Birch',3.0,1,4,2,0.6,1,0);
INSERT INTO "presence" VALUES(2,1,2,2,'Bruno Cole',3.5,1,4,0,0.6,3,2);
INSERT INTO "presence" VALUES(3,1,3,3,'Chiara Dune',4.0,1,4,1,0.6,2,1);
INSERT INTO "presence" VALUES(4,1,4,4,'Dmitri Elm',4.5,1,4,1,0.6,2,0);
INSERT INTO "presence" VALUES(5,1,5,5,'Elif Frost',5.0,1,4,0,0.6,3,1);
INSERT INTO "presence" VALUES(6,1,6,6,'Farid Glen',5.5,1,4,0,0.6,3,0);
INSERT INTO "presence" VALUES(7,1,7,7,'Greta Holm',6.0,1,4,0,0.6,3,0);
INSERT INTO "presence" VALUES(8,1,8,8,'Hugo Iver',6.5,1,4,0,0.6,3,0);
INSERT INTO "presence" VALUES(9,1,9,9,'Inês Jade',7.0,1,4,1,0.6,2,1);
INSERT INTO "presence" VALUES(10,1,10,10,'Jón Kelp',7.5,1,4,1,0.6,2,1);
CREATE TABLE recordings (
        id INTEGER PRIMARY KEY,
        kind TEXT NOT NULL,
        source TEXT NOT NULL,
        program TEXT NOT NULL
    );
INSERT INTO "recordings" VALUES(1,'scores','evening.xlsx','0.1.0');
CREATE TABLE scores (
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL,
        key TEXT NOT NULL,
        sets TEXT NOT NULL,
        mark TEXT NOT NULL,
        place TEXT NOT NULL,
        corrects INTEGER UNIQUE REFERENCES scores,
        recording INTEGER NOT NULL REFERENCES recordings,
        FOREIGN KEY (plan, key) REFERENCES matches (plan, key)
    );
INSERT INTO "scores" VALUES(1,1,'R2C1','6-1','','Scores!F6',NULL,1);
INSERT INTO "scores" VALUES(2,1,'R2C2','6-4','','Scores!F7',NULL,1);
INSERT INTO "scores" VALUES(3,1,'R3C1','6-0','','Scores!F8',NULL,1);
INSERT INTO "scores" VALUES(4,1,'R3C2','6-2','','Scores!F9',NULL,1);
INSERT INTO "scores" VALUES(5,1,'R4C1','6-0','','Scores!F10',NULL,1);
INSERT INTO "scores" VALUES(6,1,'R4C2','6-3','','Scores!F11',NULL,1);
CREATE TABLE settings (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL,
        value TEXT NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    );
CREATE TABLE short_names (
        id INTEGER PRIMARY KEY,
        person INTEGER NOT NULL REFERENCES people,
        name TEXT NOT NULL,
        recording INTEGER NOT NULL REFERENCES recordings
    );
CREATE TABLE spellings (
        id INTEGER PRIMARY KEY,
        person INTEGER NOT NULL REFERENCES people,
        name TEXT NOT NULL CHECK (name <> ''),
        shown INTEGER NOT NULL CHECK (shown IN (0, 1)),
        recording INTEGER NOT NULL REFERENCES recordings
    );
INSERT INTO "spellings" VALUES(1,1,'Ada Birch',1,1);
INSERT INTO "spellings" VALUES(2,2,'Bruno Cole',1,1);
INSERT INTO "spellings" VALUES(3,3,'Chiara Dune',1,1);
INSERT INTO "spellings" VALUES(4,4,'Dmitri Elm',1,1);
INSERT INTO "spellings" VALUES(5,5,'Elif Frost',1,1);
INSERT INTO "spellings" VALUES(6,6,'Farid Glen',1,1);
INSERT INTO "spellings" VALUES(7,7,'Greta Holm',1,1);
INSERT INTO "spellings" VALUES(8,8,'Hugo Iver',1,1);
INSERT INTO "spellings" VALUES(9,9,'Inês Jade',1,1);
INSERT INTO "spellings" VALUES(10,10,'Jón Kelp',1,1);
CREATE TABLE visits (
        id INTEGER PRIMARY KEY,
        plan INTEGER NOT NULL REFERENCES plans,
        person INTEGER NOT NULL REFERENCES people,
        court TEXT NOT NULL,
        times INTEGER NOT NULL CHECK (times > 0),
        at_station INTEGER NOT NULL CHECK (at_station >= 0),
        UNIQUE (plan, person, court)
    );
INSERT INTO "visits" VALUES(1,1,4,'Court 1',3,0);
INSERT INTO "visits" VALUES(2,1,9,'Court 1',3,0);
INSERT INTO "visits" VALUES(3,1,6,'Court 1',1,0);
INSERT INTO "visits" VALUES(4,1,1,'Court 1',2,0);
INSERT INTO "visits" VALUES(5,1,7,'Court 1',2,0);
INSERT INTO "visits" VALUES(6,1,3,'Court 2',1,0);
INSERT INTO "visits" VALUES(7,1,8,'Court 2',2,0);
INSERT INTO "visits" VALUES(8,1,2,'Court 2',4,0);
INSERT INTO "visits" VALUES(9,1,5,'Court 2',2,0);
INSERT INTO "visits" VALUES(10,1,10,'Court 2',3,0);
INSERT INTO "visits" VALUES(11,1,8,'Court 1',2,0);
INSERT INTO "visits" VALUES(12,1,6,'Court 2',3,0);
INSERT INTO "visits" VALUES(13,1,5,'Court 1',2,0);
INSERT INTO "visits" VALUES(14,1,3,'Court 1',2,0);
INSERT INTO "visits" VALUES(15,1,7,'Court 2',2,0);
CREATE TRIGGER recordings_no_update BEFORE UPDATE ON recordings BEGIN SELECT RAISE(ABORT, 'rows of recordings are never changed'); END;
CREATE TRIGGER recordings_no_delete BEFORE DELETE ON recordings BEGIN SELECT RAISE(ABORT, 'rows of recordings are never changed'); END;
CREATE TRIGGER people_no_update BEFORE UPDATE ON people BEGIN SELECT RAISE(ABORT, 'rows of people are never changed'); END;
CREATE TRIGGER people_no_delete BEFORE DELETE ON people BEGIN SELECT RAISE(ABORT, 'rows of people are never changed'); END;
CREATE TRIGGER spellings_no_update BEFORE UPDATE ON spellings BEGIN SELECT RAISE(ABORT, 'rows of spellings are never changed'); END;
CREATE TRIGGER spellings_no_delete BEFORE DELETE ON spellings BEGIN SELECT RAISE(ABORT, 'rows of spellings are never changed'); END;
CREATE TRIGGER merges_no_update BEFORE UPDATE ON merges BEGIN SELECT RAISE(ABORT, 'rows of merges are never changed'); END;
CREATE TRIGGER merges_no_delete BEFORE DELETE ON merges BEGIN SELECT RAISE(ABORT, 'rows of merges are never changed'); END;
CREATE TRIGGER short_names_no_update BEFORE UPDATE ON short_names BEGIN SELECT RAISE(ABORT, 'rows of short_names are never changed'); END;
CREATE TRIGGER short_names_no_delete BEFORE DELETE ON short_names BEGIN SELECT RAISE(ABORT, 'rows of short_names are never changed'); END;
CREATE TRIGGER settings_no_update BEFORE UPDATE ON settings BEGIN SELECT RAISE(ABORT, 'rows of settings are never changed'); END;
CREATE TRIGGER settings_no_delete BEFORE DELETE ON settings BEGIN SELECT RAISE(ABORT, 'rows of settings are never changed'); END;
CREATE TRIGGER evenings_no_update BEFORE UPDATE ON evenings BEGIN SELECT RAISE(ABORT, 'rows of evenings are never changed'); END;
CREATE TRIGGER evenings_no_delete BEFORE DELETE ON evenings BEGIN SELECT RAISE(ABORT, 'rows of evenings are never changed'); END;
CREATE TRIGGER plans_no_update BEFORE UPDATE ON plans BEGIN SELECT RAISE(ABORT, 'rows of plans are never changed'); END;
CREATE TRIGGER plans_no_delete BEFORE DELETE ON plans BEGIN SELECT RAISE(ABORT, 'rows of plans are never changed'); END;
CREATE TRIGGER presence_no_update BEFORE UPDATE ON presence BEGIN SELECT RAISE(ABORT, 'rows of presence are never changed'); END;
CREATE TRIGGER presence_no_delete BEFORE DELETE ON presence BEGIN SELECT RAISE(ABORT, 'rows of presence are never changed'); END;
CREATE TRIGGER meetings_no_update BEFORE UPDATE ON meetings BEGIN SELECT RAISE(ABORT, 'rows of meetings are never changed'); END;
CREATE TRIGGER meetings_no_delete BEFORE DELETE ON meetings BEGIN SELECT RAISE(ABORT, 'rows of meetings are never changed'); END;
CREATE TRIGGER visits_no_update BEFORE UPDATE ON visits BEGIN SELECT RAISE(ABORT, 'rows of visits are never changed'); END;
CREATE TRIGGER visits_no_delete BEFORE DELETE ON visits BEGIN SELECT RAISE(ABORT, 'rows of visits are never changed'); END;
CREATE TRIGGER figures_no_update BEFORE UPDATE ON figures BEGIN SELECT RAISE(ABORT, 'rows of figures are never changed'); END;
CREATE TRIGGER figures_no_delete BEFORE DELETE ON figures BEGIN SELECT RAISE(ABORT, 'rows of figures are never changed'); END;
CREATE TRIGGER matches_no_update BEFORE UPDATE ON matches BEGIN SELECT RAISE(ABORT, 'rows of matches are never changed'); END;
CREATE TRIGGER matches_no_delete BEFORE DELETE ON matches BEGIN SELECT RAISE(ABORT, 'rows of matches are never changed'); END;
CREATE TRIGGER scores_no_update BEFORE UPDATE ON scores BEGIN SELECT RAISE(ABORT, 'rows of scores are never changed'); END;
CREATE TRIGGER scores_no_delete BEFORE DELETE ON scores BEGIN SELECT RAISE(ABORT, 'rows of scores are never changed'); END;
CREATE TRIGGER lengths_no_update BEFORE UPDATE ON lengths BEGIN SELECT RAISE(ABORT, 'rows of lengths are never changed'); END;
CREATE TRIGGER lengths_no_delete BEFORE DELETE ON lengths BEGIN SELECT RAISE(ABORT, 'rows of lengths are never changed'); END;
CREATE INDEX plans_by_evening ON plans (evening);
CREATE UNIQUE INDEX scores_typed_first ON scores (plan, key) WHERE corrects IS NULL;
COMMIT;
PRAGMA application_id = 1919906913;
PRAGMA user_version = 1;
