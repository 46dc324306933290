namespace StationFleet.Storage.Telemetry;

/// <summary>
/// The measurement store's tables, made by the first migration. They live outside EF's model, since a table without rowid
/// keyed by (series, instant) is what makes a repeated delivery the same row. Instants are Unix milliseconds.
/// </summary>
internal static class MeasurementTables
{
    internal const string Create = """
        CREATE TABLE series (
            id INTEGER PRIMARY KEY,
            station_id INTEGER NOT NULL REFERENCES stations (id),
            name TEXT NOT NULL,
            kind TEXT NOT NULL CHECK (kind IN ('Gauge', 'Counter')),
            UNIQUE (station_id, name)
        ) STRICT;

        -- AUTOINCREMENT: ids are the order of knowing, so one must never be given twice.
        CREATE TABLE reports (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            station_id INTEGER NOT NULL REFERENCES stations (id),
            received INTEGER NOT NULL,
            source TEXT NOT NULL CHECK (source IN ('Station', 'LoggerFile', 'Retry')),
            oldest_at INTEGER,
            newest_at INTEGER,
            clock_off INTEGER,
            update_within INTEGER,
            accepted INTEGER NOT NULL,
            repeated INTEGER NOT NULL,
            set_aside INTEGER NOT NULL
        ) STRICT;

        -- Serves "what is new of this station?" and its list of recent reports.
        CREATE INDEX ix_reports_station_id ON reports (station_id, id);

        CREATE TABLE measurements (
            series_id INTEGER NOT NULL REFERENCES series (id),
            at INTEGER NOT NULL,
            value REAL NOT NULL,
            report_id INTEGER NOT NULL REFERENCES reports (id),
            PRIMARY KEY (series_id, at)
        ) STRICT, WITHOUT ROWID;

        -- The digest of the record's text: the same record sent again is kept once. AUTOINCREMENT: what a page shows by its id must
        -- not become another record while somebody decides about it.
        CREATE TABLE set_aside (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            station_id INTEGER NOT NULL REFERENCES stations (id),
            digest BLOB NOT NULL,
            report_id INTEGER NOT NULL REFERENCES reports (id),
            received INTEGER NOT NULL,
            last_received INTEGER NOT NULL,
            times INTEGER NOT NULL,
            record_index INTEGER NOT NULL,
            kind TEXT NOT NULL,
            reason TEXT NOT NULL,
            raw TEXT NOT NULL,
            UNIQUE (station_id, digest)
        ) STRICT;

        -- Serves "how many of a kind, which are the oldest?" each time one is added.
        CREATE INDEX ix_set_aside_station_id_kind ON set_aside (station_id, kind, id);

        -- How many of a kind were dropped to make room.
        CREATE TABLE set_aside_dropped (
            station_id INTEGER NOT NULL REFERENCES stations (id),
            kind TEXT NOT NULL,
            count INTEGER NOT NULL,
            PRIMARY KEY (station_id, kind)
        ) STRICT, WITHOUT ROWID;

        -- placement_id is 0 in transit: a key column cannot be null. A station's roll-ups of the same time lie together: they are
        -- written together, by each report, and read together, by each page.
        CREATE TABLE rollup_hours (
            station_id INTEGER NOT NULL REFERENCES stations (id),
            series_id INTEGER NOT NULL REFERENCES series (id),
            hour_start INTEGER NOT NULL,
            placement_id INTEGER NOT NULL,
            day TEXT NOT NULL,
            count INTEGER NOT NULL,
            min REAL NOT NULL,
            max REAL NOT NULL,
            sum REAL NOT NULL,
            first REAL NOT NULL,
            first_at INTEGER NOT NULL,
            last REAL NOT NULL,
            last_at INTEGER NOT NULL,
            known REAL NOT NULL,
            across_hours REAL NOT NULL,
            across_days REAL NOT NULL,
            uncertain INTEGER NOT NULL,
            PRIMARY KEY (station_id, hour_start, series_id, placement_id)
        ) STRICT, WITHOUT ROWID;

        CREATE TABLE rollup_days (
            station_id INTEGER NOT NULL REFERENCES stations (id),
            series_id INTEGER NOT NULL REFERENCES series (id),
            day TEXT NOT NULL,
            placement_id INTEGER NOT NULL,
            count INTEGER NOT NULL,
            min REAL NOT NULL,
            max REAL NOT NULL,
            sum REAL NOT NULL,
            first REAL NOT NULL,
            first_at INTEGER NOT NULL,
            last REAL NOT NULL,
            last_at INTEGER NOT NULL,
            known REAL NOT NULL,
            across_days REAL NOT NULL,
            uncertain INTEGER NOT NULL,
            hours INTEGER NOT NULL,
            PRIMARY KEY (station_id, day, series_id, placement_id)
        ) STRICT, WITHOUT ROWID;

        -- The report up to which the roll-ups are written; raw rows of later ones may be ahead of them for a moment.
        CREATE TABLE rolled_up (
            id INTEGER PRIMARY KEY CHECK (id = 1),
            report_id INTEGER NOT NULL
        ) STRICT;

        INSERT INTO rolled_up (id, report_id) VALUES (1, 0);

        -- Up to this instant, included, a station's roll-ups are final and its raw rows are gone but for the last of each series.
        CREATE TABLE sealed (
            station_id INTEGER PRIMARY KEY REFERENCES stations (id),
            up_to INTEGER NOT NULL
        ) STRICT;

        CREATE TABLE last_heard (
            station_id INTEGER PRIMARY KEY REFERENCES stations (id),
            at INTEGER NOT NULL
        ) STRICT;
        """;

    internal const string Drop = """
        DROP TABLE last_heard;
        DROP TABLE rolled_up;
        DROP TABLE sealed;
        DROP TABLE rollup_days;
        DROP TABLE rollup_hours;
        DROP TABLE set_aside_dropped;
        DROP TABLE set_aside;
        DROP TABLE measurements;
        DROP TABLE reports;
        DROP TABLE series;
        """;
}
