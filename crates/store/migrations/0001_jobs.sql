-- Jobs as a list shows them, and every text each of them ever had.
-- Times are milliseconds since 1970-01-01 UTC; money is in cents; days are year-month-day.
CREATE TABLE jobs (
    id TEXT NOT NULL PRIMARY KEY,
    title TEXT NOT NULL,
    address TEXT NOT NULL,
    customer TEXT NOT NULL,
    search TEXT NOT NULL,
    stage TEXT NOT NULL,
    next_date TEXT,
    price_low BIGINT,
    price_high BIGINT,
    head BIGINT NOT NULL,
    updated_at BIGINT NOT NULL,
    removed BIGINT NOT NULL DEFAULT 0
);

CREATE TABLE revisions (
    job TEXT NOT NULL REFERENCES jobs (id),
    number BIGINT NOT NULL CHECK (number >= 1),
    at BIGINT NOT NULL,
    author TEXT NOT NULL,
    note TEXT NOT NULL,
    title TEXT NOT NULL,
    price_low BIGINT,
    price_high BIGINT,
    body TEXT NOT NULL,
    PRIMARY KEY (job, number)
);
