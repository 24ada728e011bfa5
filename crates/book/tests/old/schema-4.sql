--
-- PostgreSQL database dump
--


-- Dumped from database version 15.18 (Debian 15.18-0+deb12u1)
-- Dumped by pg_dump version 15.18 (Debian 15.18-0+deb12u1)

SET statement_timeout = 0;
SET lock_timeout = 0;
SET idle_in_transaction_session_timeout = 0;
SET client_encoding = 'UTF8';
SET standard_conforming_strings = on;
SELECT pg_catalog.set_config('search_path', '', false);
SET check_function_bodies = false;
SET xmloption = content;
SET client_min_messages = warning;
SET row_security = off;

SET default_tablespace = '';

SET default_table_access_method = heap;

--
-- Name: account; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.account (
    number bigint NOT NULL,
    name text NOT NULL,
    name_key text NOT NULL COLLATE pg_catalog."C",
    role text NOT NULL,
    secret text NOT NULL,
    active bigint NOT NULL,
    created_at bigint NOT NULL
);


--
-- Name: counter; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.counter (
    name text NOT NULL,
    value bigint NOT NULL
);


--
-- Name: decided_size; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.decided_size (
    order_number bigint NOT NULL,
    kind text NOT NULL COLLATE pg_catalog."C",
    side text NOT NULL COLLATE pg_catalog."C",
    size bigint NOT NULL
);


--
-- Name: draft; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.draft (
    account_number bigint NOT NULL,
    topic text NOT NULL COLLATE pg_catalog."C",
    words text NOT NULL,
    base bigint NOT NULL,
    saved_at bigint NOT NULL
);


--
-- Name: event; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.event (
    sequence bigint NOT NULL,
    at bigint NOT NULL,
    who text NOT NULL,
    kind text NOT NULL,
    order_number bigint,
    body text NOT NULL,
    hash text NOT NULL
);


--
-- Name: inspected_size; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.inspected_size (
    order_number bigint NOT NULL,
    "position" bigint NOT NULL,
    revision bigint NOT NULL,
    at bigint NOT NULL,
    who text NOT NULL,
    kind text NOT NULL COLLATE pg_catalog."C",
    side text NOT NULL COLLATE pg_catalog."C",
    written text NOT NULL,
    size bigint NOT NULL,
    passed bigint NOT NULL
);


--
-- Name: log_end; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.log_end (
    one bigint NOT NULL,
    sequence bigint NOT NULL,
    hash text NOT NULL
);


--
-- Name: message; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.message (
    number bigint NOT NULL,
    order_number bigint NOT NULL,
    at bigint NOT NULL,
    who text NOT NULL,
    direction text NOT NULL,
    words text NOT NULL
);


--
-- Name: orders; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.orders (
    number bigint NOT NULL,
    reference text NOT NULL,
    reference_key text NOT NULL COLLATE pg_catalog."C",
    customer text NOT NULL,
    contact text NOT NULL,
    vehicle text NOT NULL,
    axle text NOT NULL,
    due text,
    state text NOT NULL COLLATE pg_catalog."C",
    state_since bigint NOT NULL,
    revision bigint NOT NULL,
    approved_revision bigint,
    overruled text,
    verdict text NOT NULL COLLATE pg_catalog."C",
    fit double precision,
    doubt text,
    catalog_mark text NOT NULL,
    reviewed_at bigint NOT NULL,
    placed_at bigint NOT NULL,
    placed_by text NOT NULL,
    changed_at bigint NOT NULL
);


--
-- Name: photo; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.photo (
    number bigint NOT NULL,
    order_number bigint NOT NULL,
    at bigint NOT NULL,
    who text NOT NULL,
    name text NOT NULL,
    caption text NOT NULL,
    media_type text NOT NULL,
    width bigint NOT NULL,
    height bigint NOT NULL,
    size bigint NOT NULL,
    digest text NOT NULL
);


--
-- Name: photo_picture; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.photo_picture (
    photo_number bigint NOT NULL,
    picture bytea NOT NULL,
    thumbnail bytea NOT NULL
);


--
-- Name: reading_change; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.reading_change (
    order_number bigint NOT NULL,
    revision bigint NOT NULL,
    "position" bigint NOT NULL,
    measurand text NOT NULL COLLATE pg_catalog."C",
    side text NOT NULL COLLATE pg_catalog."C",
    was text,
    becomes text
);


--
-- Name: rereview; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.rereview (
    number bigint NOT NULL,
    started_at bigint NOT NULL,
    finished_at bigint,
    who text NOT NULL,
    catalog_mark text NOT NULL,
    orders bigint NOT NULL,
    done bigint NOT NULL
);


--
-- Name: rereview_change; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.rereview_change (
    rereview_number bigint NOT NULL,
    order_number bigint NOT NULL,
    at bigint NOT NULL,
    verdict_was text NOT NULL,
    verdict_becomes text NOT NULL,
    fit_was double precision,
    fit_becomes double precision,
    why text NOT NULL
);


--
-- Name: revision; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.revision (
    order_number bigint NOT NULL,
    revision bigint NOT NULL,
    base bigint NOT NULL,
    at bigint NOT NULL,
    who text NOT NULL,
    reason text NOT NULL,
    customer text NOT NULL,
    contact text NOT NULL,
    vehicle text NOT NULL,
    due text,
    sheet text NOT NULL
);


--
-- Name: saved_view; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.saved_view (
    account_number bigint NOT NULL,
    name text NOT NULL COLLATE pg_catalog."C",
    body text NOT NULL
);


--
-- Name: schema_step; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.schema_step (
    number bigint NOT NULL,
    at bigint NOT NULL
);


--
-- Name: search_word; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.search_word (
    word text NOT NULL COLLATE pg_catalog."C",
    order_number bigint NOT NULL
);


--
-- Name: session; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.session (
    token_digest text NOT NULL COLLATE pg_catalog."C",
    account_number bigint NOT NULL,
    created_at bigint NOT NULL,
    seen_at bigint NOT NULL,
    expires_at bigint NOT NULL
);


--
-- Name: sign_in; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.sign_in (
    number bigint NOT NULL,
    at bigint NOT NULL,
    name text NOT NULL,
    name_key text NOT NULL COLLATE pg_catalog."C",
    address text NOT NULL,
    outcome text NOT NULL
);


--
-- Name: token; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.token (
    number bigint NOT NULL,
    name text NOT NULL,
    name_key text NOT NULL COLLATE pg_catalog."C",
    role text NOT NULL,
    token_digest text NOT NULL COLLATE pg_catalog."C",
    made_at bigint NOT NULL,
    made_by text NOT NULL,
    revoked_at bigint,
    used_on text
);


--
-- Name: work_record; Type: TABLE; Schema: public; Owner: -
--

CREATE TABLE public.work_record (
    order_number bigint NOT NULL,
    "position" bigint NOT NULL,
    revision bigint NOT NULL,
    at bigint NOT NULL,
    who text NOT NULL,
    kind text NOT NULL COLLATE pg_catalog."C",
    side text NOT NULL COLLATE pg_catalog."C",
    written text NOT NULL,
    amount bigint,
    pin bigint,
    passed bigint
);


--
-- Data for Name: account; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.account VALUES (1, 'Morwen Ostrey', 'morwen ostrey', 'owner', '$argon2id$v=19$m=19456,t=2,p=1$5vYRnT5AJ1ToYMqkI8G96Q$7/Ddh8uScE7h8aUPBcpM0EBm2H3LlDlPvwulmj3Z+Kc', 1, 1772438400000000);


--
-- Data for Name: counter; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.counter VALUES ('account', 1);
INSERT INTO public.counter VALUES ('order', 2);
INSERT INTO public.counter VALUES ('message', 1);
INSERT INTO public.counter VALUES ('photo', 1);
INSERT INTO public.counter VALUES ('token', 1);


--
-- Data for Name: decided_size; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.decided_size VALUES (1, 'bolt_circle', '', 120650000);
INSERT INTO public.decided_size VALUES (1, 'brake_offset', '', 59943985);
INSERT INTO public.decided_size VALUES (1, 'flange_diameter', '', 152366927);
INSERT INTO public.decided_size VALUES (1, 'flange_thickness', '', 10796972);
INSERT INTO public.decided_size VALUES (1, 'journal_diameter', '', 38938200);
INSERT INTO public.decided_size VALUES (1, 'overall_length', 'left', 737359250);
INSERT INTO public.decided_size VALUES (1, 'overall_length', 'right', 767207324);
INSERT INTO public.decided_size VALUES (1, 'race_distance', '', 57307877);
INSERT INTO public.decided_size VALUES (1, 'register_diameter', '', 70594837);
INSERT INTO public.decided_size VALUES (1, 'register_height', '', 6400681);
INSERT INTO public.decided_size VALUES (1, 'ring_seat_diameter', '', 38856264);
INSERT INTO public.decided_size VALUES (1, 'seal_journal_diameter', '', 38403194);
INSERT INTO public.decided_size VALUES (1, 'shoulder_distance', '', 55403483);
INSERT INTO public.decided_size VALUES (1, 'spline_major_diameter', '', 33358667);
INSERT INTO public.decided_size VALUES (1, 'stud_hole', '', 15392400);
INSERT INTO public.decided_size VALUES (1, 'wheel_pilot_diameter', '', 69099712);
INSERT INTO public.decided_size VALUES (1, 'wheel_pilot_height', '', 15876477);
INSERT INTO public.decided_size VALUES (2, 'bolt_circle', '', 114300000);
INSERT INTO public.decided_size VALUES (2, 'brake_offset', '', 55926984);
INSERT INTO public.decided_size VALUES (2, 'flange_diameter', '', 146013323);
INSERT INTO public.decided_size VALUES (2, 'flange_thickness', '', 9095033);
INSERT INTO public.decided_size VALUES (2, 'journal_diameter', '', 35020500);
INSERT INTO public.decided_size VALUES (2, 'overall_length', 'left', 696695308);
INSERT INTO public.decided_size VALUES (2, 'overall_length', 'right', 733492483);
INSERT INTO public.decided_size VALUES (2, 'race_distance', '', 54121683);
INSERT INTO public.decided_size VALUES (2, 'register_diameter', '', 65007724);
INSERT INTO public.decided_size VALUES (2, 'register_height', '', 5082787);
INSERT INTO public.decided_size VALUES (2, 'ring_seat_diameter', '', 34934636);
INSERT INTO public.decided_size VALUES (2, 'seal_journal_diameter', '', 34462653);
INSERT INTO public.decided_size VALUES (2, 'shoulder_distance', '', 54123865);
INSERT INTO public.decided_size VALUES (2, 'spline_major_diameter', '', 30183667);
INSERT INTO public.decided_size VALUES (2, 'stud_hole', '', 11904980);
INSERT INTO public.decided_size VALUES (2, 'wheel_pilot_diameter', '', 61483681);
INSERT INTO public.decided_size VALUES (2, 'wheel_pilot_height', '', 12698339);


--
-- Data for Name: draft; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.draft VALUES (1, 'order 2', 'half a line', 1, 1772438820000000);


--
-- Data for Name: event; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.event VALUES (1, 1772438400000000, 'Morwen Ostrey', 'account made', NULL, '{"account":1,"name":"Morwen Ostrey","role":"owner"}', '6846093bd8d101337804bf40a5f89a7f1ecaeb78f508599ac613318fffce7905');
INSERT INTO public.event VALUES (2, 1772438460000000, 'Wenna Tarrow', 'placed', 1, '{"revision":1,"base":0,"reason":"taken in","reference":"Q-0101","customer":"Tamsin Müller","contact":"at the weir","vehicle":"hay truck","due":"2026-04-01","sheet_sha256":"888d2b0b55565721bee5cf98acdf0d4889aa8a40eba96439f4747971cd95a894","verdict":"cut","fit":0.9960447574424869}', 'e12eac9b9016b3c53de2a1a9ef12f92568d8b4fae261f9b81cecbcdf8597b068');
INSERT INTO public.event VALUES (3, 1772438520000000, 'Wenna Tarrow', 'revised', 1, '{"revision":2,"base":1,"reason":"read again","reference":"Q-0101","customer":"Tamsin Müller","contact":"at the weir","vehicle":"hay truck","due":"2026-04-01","sheet_sha256":"a94715285850aa349a40ce33e597ea268394c01ec7fbac42d0d3d0e061ebed74","verdict":"cut","fit":0.9960447610999006}', '0b108a238fe5d5a5dbc37f992745dd60997d49f051dda375721d198e694fab06');
INSERT INTO public.event VALUES (4, 1772438580000000, 'a customer', 'placed', 2, '{"revision":1,"base":0,"reason":"taken in","reference":"Q-0102","customer":"","contact":"","vehicle":"","due":null,"sheet_sha256":"ddc594511a78b2b1dc63b1565a8e71692ce3cab2126446b32298e280999de8c1","verdict":"cut","fit":0.9892658933833537}', '2a64de9d47d1dbc1f6deeb602c605035effdde1714840ab76040a550c9ba4703');
INSERT INTO public.event VALUES (5, 1772438640000000, 'Wenna Tarrow', 'moved', 1, '{"from":"received","to":"approved-to-cut","reason":"looked at it","revision":2,"verdict":"cut","overruled":false,"sizes":null,"catalog":null}', '0b071a861e606051d1863bf28510ad98eedbaa22aac81b05bfc1c21de22b2b18');
INSERT INTO public.event VALUES (6, 1772438700000000, 'Wenna Tarrow', 'message', 1, '{"message":1,"direction":"to customer","sha256":"0fa5b939ddae15695c788a849de985d67494ba2947005838c2959f10a8dde412"}', '0a5a2e9294e65b6b8eadefdb2624deb0be2fd09617904b700f388362896896e5');
INSERT INTO public.event VALUES (7, 1772438760000000, 'Wenna Tarrow', 'photo', 1, '{"photo":1,"name":"flange.png","caption":"the flange","sha256":"4d1fd48f6a59b21200c022f84b518e6c6363c1aa53099bd98dee9504e465d4b0"}', 'd083d81ca65943631be11d5980f4d9829162d1b59f72f4117ebf668f86651f58');
INSERT INTO public.event VALUES (8, 1772438820000000, 'Morwen Ostrey', 'token made', NULL, '{"token":1,"name":"accounts","role":"read-only"}', 'c9dc8ad369481a4469a79e901ca223c9d0cde16c94610926323d6c00e2d4b583');


--
-- Data for Name: inspected_size; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Data for Name: log_end; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.log_end VALUES (1, 8, 'c9dc8ad369481a4469a79e901ca223c9d0cde16c94610926323d6c00e2d4b583');


--
-- Data for Name: message; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.message VALUES (1, 1, 1772438700000000, 'Wenna Tarrow', 'to customer', 'We cut on Monday.');


--
-- Data for Name: orders; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.orders VALUES (2, 'Q-0102', 'q0102', '', '', '', 'light axle under the market wagon', NULL, 'received', 1772438580000000, 1, NULL, NULL, 'cut', 0.9892658933833537, 'left overall length 27 1/16", > 99.9 % likely mistaken', '98ac35ee0c2bc5d3b36759aae99e7315154a178eb737edf26a28f891646d67ce', 1772438580000000, 1772438580000000, 'a customer', 1772438580000000);
INSERT INTO public.orders VALUES (1, 'Q-0101', 'q0101', 'Tamsin Müller', 'at the weir', 'hay truck', 'stout housing, drums, from the hay truck', '2026-04-01', 'approved-to-cut', 1772438640000000, 2, 2, NULL, 'cut', 0.9960447610999006, 'spline major diameter 1.3145, 15.3 % likely mistaken', '98ac35ee0c2bc5d3b36759aae99e7315154a178eb737edf26a28f891646d67ce', 1772438520000000, 1772438460000000, 'Wenna Tarrow', 1772438700000000);


--
-- Data for Name: photo; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.photo VALUES (1, 1, 1772438760000000, 'Wenna Tarrow', 'flange.png', 'the flange', 'image/png', 40, 30, 212, '4d1fd48f6a59b21200c022f84b518e6c6363c1aa53099bd98dee9504e465d4b0');


--
-- Data for Name: photo_picture; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.photo_picture VALUES (1, '\x89504e470d0a1a0a0000000d49484452000000280000001e0802000000d1bfcb8a0000009b494441547801edc003a0245996c6f1ff77ee8dc8cca7724b63ae6ddbb66ddbb66ddbb66d698c9e964aaf9e323322eef976b76a7aa6873b6bd5affe31ff2d08fe7b10fcf720f8ef41f0df83e0bf07c17f0f82ff1e04ff3d08fe7b10fcf720f8ef41f0df83e0bf07c17f0f82ff1e04ff3d08fe7b10fcf720f8ef41f0df83e0bf07c17f0f82ff1e04ff3d08fe7b10fcf720f8ef41f0df83e0bf07ff08f5f801079d26f4860000000049454e44ae426082', '\xffd8ffe000104a46494600010200000100010000ffc000110800f0014003011100021101031101ffdb004300080606070605080707070909080a0c140d0c0b0b0c1912130f141d1a1f1e1d1a1c1c20242e2720222c231c1c2837292c30313434341f27393d38323c2e333432ffdb0043010909090c0b0c180d0d1832211c213232323232323232323232323232323232323232323232323232323232323232323232323232323232323232323232323232ffc4001f0000010501010101010100000000000000000102030405060708090a0bffc400b5100002010303020403050504040000017d01020300041105122131410613516107227114328191a1082342b1c11552d1f02433627282090a161718191a25262728292a3435363738393a434445464748494a535455565758595a636465666768696a737475767778797a838485868788898a92939495969798999aa2a3a4a5a6a7a8a9aab2b3b4b5b6b7b8b9bac2c3c4c5c6c7c8c9cad2d3d4d5d6d7d8d9dae1e2e3e4e5e6e7e8e9eaf1f2f3f4f5f6f7f8f9faffc4001f0100030101010101010101010000000000000102030405060708090a0bffc400b51100020102040403040705040400010277000102031104052131061241510761711322328108144291a1b1c109233352f0156272d10a162434e125f11718191a262728292a35363738393a434445464748494a535455565758595a636465666768696a737475767778797a82838485868788898a92939495969798999aa2a3a4a5a6a7a8a9aab2b3b4b5b6b7b8b9bac2c3c4c5c6c7c8c9cad2d3d4d5d6d7d8d9dae2e3e4e5e6e7e8e9eaf2f3f4f5f6f7f8f9faffda000c03010002110311003f00f3baf04fd642800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002800a002803ffd9');


--
-- Data for Name: reading_change; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.reading_change VALUES (1, 1, 1, 'shoulder_distance', '', NULL, '2.175 in; 2.180 in; 2.178 in, depth gauge, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 2, 'race_distance', '', NULL, '2.255 in, depth gauge, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 3, 'flange_thickness', '', NULL, '0.421 in');
INSERT INTO public.reading_change VALUES (1, 1, 4, 'flange_diameter', '', NULL, '6 in');
INSERT INTO public.reading_change VALUES (1, 1, 5, 'register_diameter', '', NULL, '2.7790 in; 2.7785 in; 2.7795 in, micrometer, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 6, 'register_height', '', NULL, '0.252 in');
INSERT INTO public.reading_change VALUES (1, 1, 7, 'wheel_pilot_diameter', '', NULL, '2.720 in; 2.721 in, caliper, careful hand, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 8, 'wheel_pilot_height', '', NULL, '5/8"');
INSERT INTO public.reading_change VALUES (1, 1, 9, 'drum_bore', '', NULL, '2.7850 in; 2.7854 in, bore gauge, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 10, 'drum_inside', '', NULL, '6 5/8"');
INSERT INTO public.reading_change VALUES (1, 1, 11, 'wheel_bore', '', NULL, '2.786 in');
INSERT INTO public.reading_change VALUES (1, 1, 12, 'journal_diameter', '', NULL, '1.5330 in; 1.5331 in, micrometer, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 13, 'ring_seat_diameter', '', NULL, '1.5298 in, micrometer, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 14, 'seal_journal_diameter', '', NULL, '1.512 in');
INSERT INTO public.reading_change VALUES (1, 1, 15, 'bearing_outside', '', NULL, '3.149 in');
INSERT INTO public.reading_change VALUES (1, 1, 16, 'bearing_inner_width', '', NULL, '0.944 in');
INSERT INTO public.reading_change VALUES (1, 1, 17, 'bearing_outer_width', '', NULL, '0.827 in');
INSERT INTO public.reading_change VALUES (1, 1, 18, 'housing_bore_diameter', '', NULL, '3.151 in');
INSERT INTO public.reading_change VALUES (1, 1, 19, 'housing_bore_depth', '', NULL, '0.722 in; 0.724 in, depth gauge, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 20, 'trapped_thickness', '', NULL, '0.102 in');
INSERT INTO public.reading_change VALUES (1, 1, 21, 'bolt_rectangle_long', '', NULL, '3.455 in');
INSERT INTO public.reading_change VALUES (1, 1, 22, 'bolt_rectangle_short', '', NULL, '2.295 in');
INSERT INTO public.reading_change VALUES (1, 1, 23, 'housing_bolt_hole', '', NULL, '0.451 in');
INSERT INTO public.reading_change VALUES (1, 1, 24, 'hole_count', '', NULL, '5');
INSERT INTO public.reading_change VALUES (1, 1, 25, 'edge_gap', '', NULL, '2.185 in, caliper, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 26, 'edge_span', '', NULL, '3.399 in, caliper, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 27, 'chord_alternate', '', NULL, '4.512 in, caliper, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 28, 'stud_hole', '', NULL, '0.607 in');
INSERT INTO public.reading_change VALUES (1, 1, 29, 'knurl_diameter', '', NULL, '0.621 in');
INSERT INTO public.reading_change VALUES (1, 1, 30, 'tooth_count', '', NULL, '31');
INSERT INTO public.reading_change VALUES (1, 1, 31, 'spline_major_diameter', '', NULL, '1.3145 in, caliper, careful hand, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 32, 'spline_over_pins', '', NULL, '1.4226 in; 1.4230 in, pins 2.032 mm, micrometer, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 33, 'spline_contact_length', '', NULL, '1 3/4"');
INSERT INTO public.reading_change VALUES (1, 1, 34, 'housing_width', '', NULL, '55 5/8"');
INSERT INTO public.reading_change VALUES (1, 1, 35, 'overall_length', 'left', NULL, '29", tape, by owner');
INSERT INTO public.reading_change VALUES (1, 1, 36, 'overall_length', 'left', NULL, '29 1/32", steel rule, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 37, 'brake_offset', 'left', NULL, '2 23/64", straightedge, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 38, 'reach', 'left', NULL, '26 7/8", tape, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 39, 'overall_length', 'right', NULL, '30 3/16", tape, by owner');
INSERT INTO public.reading_change VALUES (1, 1, 40, 'overall_length', 'right', NULL, '30 13/64", steel rule, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 41, 'brake_offset', 'right', NULL, '2.345 in, depth gauge, by fitter');
INSERT INTO public.reading_change VALUES (1, 1, 42, 'reach', 'right', NULL, '28 1/16", tape, by fitter');
INSERT INTO public.reading_change VALUES (1, 2, 1, 'flange_thickness', '', '0.421 in', '0.425 in');
INSERT INTO public.reading_change VALUES (2, 1, 1, 'shoulder_distance', '', NULL, '2.13 in; 2.14 in; 2.13 in, caliper, by owner');
INSERT INTO public.reading_change VALUES (2, 1, 2, 'brake_offset', '', NULL, '2.20 in, depth gauge, by owner');
INSERT INTO public.reading_change VALUES (2, 1, 3, 'flange_thickness', '', NULL, '0.357 in; 0.359 in, caliper');
INSERT INTO public.reading_change VALUES (2, 1, 4, 'flange_diameter', '', NULL, '5 3/4"');
INSERT INTO public.reading_change VALUES (2, 1, 5, 'register_diameter', '', NULL, '2.559 in; 2.5585 in; 2.5595 in, caliper, careful hand');
INSERT INTO public.reading_change VALUES (2, 1, 6, 'register_height', '', NULL, '0.20 in');
INSERT INTO public.reading_change VALUES (2, 1, 7, 'wheel_pilot_diameter', '', NULL, '2.421 in');
INSERT INTO public.reading_change VALUES (2, 1, 8, 'wheel_pilot_height', '', NULL, '1/2"');
INSERT INTO public.reading_change VALUES (2, 1, 9, 'drum_bore', '', NULL, '2.565 in; 2.5655 in; 2.565 in, caliper, careful hand');
INSERT INTO public.reading_change VALUES (2, 1, 10, 'drum_inside', '', NULL, '6 3/16"');
INSERT INTO public.reading_change VALUES (2, 1, 11, 'wheel_bore', '', NULL, '2.451 in');
INSERT INTO public.reading_change VALUES (2, 1, 12, 'journal_diameter', '', NULL, '1.3788 in, micrometer, by machinist next door');
INSERT INTO public.reading_change VALUES (2, 1, 13, 'ring_seat_diameter', '', NULL, '1.3754 in, micrometer, by machinist next door');
INSERT INTO public.reading_change VALUES (2, 1, 14, 'seal_journal_diameter', '', NULL, '1.357 in');
INSERT INTO public.reading_change VALUES (2, 1, 15, 'bearing_outside', '', NULL, '72 mm');
INSERT INTO public.reading_change VALUES (2, 1, 16, 'bearing_outer_width', '', NULL, '17 mm');
INSERT INTO public.reading_change VALUES (2, 1, 17, 'housing_bore_diameter', '', NULL, '2.836 in');
INSERT INTO public.reading_change VALUES (2, 1, 18, 'housing_bore_depth', '', NULL, '0.597 in, depth gauge');
INSERT INTO public.reading_change VALUES (2, 1, 19, 'trapped_thickness', '', NULL, '0.064 in');
INSERT INTO public.reading_change VALUES (2, 1, 20, 'bolt_rectangle_long', '', NULL, '3.11 in');
INSERT INTO public.reading_change VALUES (2, 1, 21, 'bolt_rectangle_short', '', NULL, '2.145 in');
INSERT INTO public.reading_change VALUES (2, 1, 22, 'housing_bolt_hole', '', NULL, '0.391 in');
INSERT INTO public.reading_change VALUES (2, 1, 23, 'hole_count', '', NULL, '5');
INSERT INTO public.reading_change VALUES (2, 1, 24, 'edge_gap', '', NULL, '2.178 in');
INSERT INTO public.reading_change VALUES (2, 1, 25, 'edge_span', '', NULL, '3.112 in');
INSERT INTO public.reading_change VALUES (2, 1, 26, 'chord_alternate', '', NULL, '4.287 in');
INSERT INTO public.reading_change VALUES (2, 1, 27, 'stud_hole', '', NULL, '0.469 in');
INSERT INTO public.reading_change VALUES (2, 1, 28, 'tooth_count', '', NULL, '28');
INSERT INTO public.reading_change VALUES (2, 1, 29, 'spline_major_diameter', '', NULL, '1.187 in');
INSERT INTO public.reading_change VALUES (2, 1, 30, 'spline_over_pins', '', NULL, '1.2990 in, pins 2.032 mm, micrometer, by machinist next door');
INSERT INTO public.reading_change VALUES (2, 1, 31, 'housing_width', '', NULL, '53 1/16", tape');
INSERT INTO public.reading_change VALUES (2, 1, 32, 'overall_length', 'left', NULL, '27 1/16", tape, by owner');
INSERT INTO public.reading_change VALUES (2, 1, 33, 'reach', 'left', NULL, '25 7/16", tape, by owner');
INSERT INTO public.reading_change VALUES (2, 1, 34, 'overall_length', 'right', NULL, '28 7/8", tape, by owner');
INSERT INTO public.reading_change VALUES (2, 1, 35, 'reach', 'right', NULL, '26 7/8", tape, by owner');


--
-- Data for Name: rereview; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Data for Name: rereview_change; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Data for Name: revision; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.revision VALUES (1, 1, 0, 1772438460000000, 'Wenna Tarrow', 'taken in', 'Tamsin Müller', 'at the weir', 'hay truck', '2026-04-01', '# Both old shafts, both drums and the bare housing were on the bench.

[order]
reference    = "Q-0101"
axle         = "stout housing, drums, from the hay truck"
use          = "street"
unit         = "in"
differential = "open"
sides        = ["left", "right"]

[fitting]
bearings = "shop"
studs    = "shop"

[bearing]
kind = "ball"

[brake]
row      = "drum 10 x 2 1/2 in"
retainer = "plate"

[stud]
thread = "1/2-20"

[spline]
series = "24/48, 45°, fillet root"

[shared]
shoulder_distance     = { value = ["2.175", "2.180", "2.178"], instrument = "depth gauge", by = "fitter" }
race_distance         = { value = "2.255", instrument = "depth gauge", by = "fitter" }
flange_thickness      = "0.421"
flange_diameter       = 6
register_diameter     = { value = ["2.7790", "2.7785", "2.7795"], instrument = "micrometer", by = "fitter" }
register_height       = "0.252"
wheel_pilot_diameter  = { value = ["2.720", "2.721"], instrument = "caliper, careful hand", by = "fitter" }
wheel_pilot_height    = ''5/8"''
drum_bore             = { value = ["2.7850", "2.7854"], instrument = "bore gauge", by = "fitter" }
drum_inside           = ''6 5/8"''
wheel_bore            = "2.786"
journal_diameter      = { value = ["1.5330", "1.5331"], instrument = "micrometer", by = "fitter" }
ring_seat_diameter    = { value = "1.5298", instrument = "micrometer", by = "fitter" }
seal_journal_diameter = "1.512"
bearing_outside       = "3.149"
bearing_inner_width   = "0.944"
bearing_outer_width   = "0.827"
housing_bore_diameter = "3.151"
housing_bore_depth    = { value = ["0.722", "0.724"], instrument = "depth gauge", by = "fitter" }
trapped_thickness     = "0.102"
bolt_rectangle_long   = "3.455"
bolt_rectangle_short  = "2.295"
housing_bolt_hole     = "0.451"
hole_count            = 5
edge_gap              = { value = "2.185", instrument = "caliper", by = "fitter" }
edge_span             = { value = "3.399", instrument = "caliper", by = "fitter" }
chord_alternate       = { value = "4.512", instrument = "caliper", by = "fitter" }
stud_hole             = "0.607"
knurl_diameter        = "0.621"
tooth_count           = 31
spline_major_diameter = { value = "1.3145", instrument = "caliper, careful hand", by = "fitter" }
spline_over_pins      = { value = ["1.4226", "1.4230"], pin = "0.080", instrument = "micrometer", by = "fitter" }
spline_contact_length = ''1 3/4"''
housing_width         = ''55 5/8"''

[left]
overall_length = [
  { value = ''29"'', instrument = "tape", by = "owner" },
  { value = ''29 1/32"'', instrument = "steel rule", by = "fitter" },
]
brake_offset = { value = ''2 23/64"'', instrument = "straightedge", by = "fitter" }
reach        = { value = ''26 7/8"'', instrument = "tape", by = "fitter" }

[right]
overall_length = [
  { value = ''30 3/16"'', instrument = "tape", by = "owner" },
  { value = ''30 13/64"'', instrument = "steel rule", by = "fitter" },
]
brake_offset = { value = "2.345", instrument = "depth gauge", by = "fitter" }
reach        = { value = ''28 1/16"'', instrument = "tape", by = "fitter" }
');
INSERT INTO public.revision VALUES (1, 2, 1, 1772438520000000, 'Wenna Tarrow', 'read again', 'Tamsin Müller', 'at the weir', 'hay truck', '2026-04-01', '# Both old shafts, both drums and the bare housing were on the bench.

[order]
reference    = "Q-0101"
axle         = "stout housing, drums, from the hay truck"
use          = "street"
unit         = "in"
differential = "open"
sides        = ["left", "right"]

[fitting]
bearings = "shop"
studs    = "shop"

[bearing]
kind = "ball"

[brake]
row      = "drum 10 x 2 1/2 in"
retainer = "plate"

[stud]
thread = "1/2-20"

[spline]
series = "24/48, 45°, fillet root"

[shared]
shoulder_distance     = { value = ["2.175", "2.180", "2.178"], instrument = "depth gauge", by = "fitter" }
race_distance         = { value = "2.255", instrument = "depth gauge", by = "fitter" }
flange_thickness      = "0.425"
flange_diameter       = 6
register_diameter     = { value = ["2.7790", "2.7785", "2.7795"], instrument = "micrometer", by = "fitter" }
register_height       = "0.252"
wheel_pilot_diameter  = { value = ["2.720", "2.721"], instrument = "caliper, careful hand", by = "fitter" }
wheel_pilot_height    = ''5/8"''
drum_bore             = { value = ["2.7850", "2.7854"], instrument = "bore gauge", by = "fitter" }
drum_inside           = ''6 5/8"''
wheel_bore            = "2.786"
journal_diameter      = { value = ["1.5330", "1.5331"], instrument = "micrometer", by = "fitter" }
ring_seat_diameter    = { value = "1.5298", instrument = "micrometer", by = "fitter" }
seal_journal_diameter = "1.512"
bearing_outside       = "3.149"
bearing_inner_width   = "0.944"
bearing_outer_width   = "0.827"
housing_bore_diameter = "3.151"
housing_bore_depth    = { value = ["0.722", "0.724"], instrument = "depth gauge", by = "fitter" }
trapped_thickness     = "0.102"
bolt_rectangle_long   = "3.455"
bolt_rectangle_short  = "2.295"
housing_bolt_hole     = "0.451"
hole_count            = 5
edge_gap              = { value = "2.185", instrument = "caliper", by = "fitter" }
edge_span             = { value = "3.399", instrument = "caliper", by = "fitter" }
chord_alternate       = { value = "4.512", instrument = "caliper", by = "fitter" }
stud_hole             = "0.607"
knurl_diameter        = "0.621"
tooth_count           = 31
spline_major_diameter = { value = "1.3145", instrument = "caliper, careful hand", by = "fitter" }
spline_over_pins      = { value = ["1.4226", "1.4230"], pin = "0.080", instrument = "micrometer", by = "fitter" }
spline_contact_length = ''1 3/4"''
housing_width         = ''55 5/8"''

[left]
overall_length = [
  { value = ''29"'', instrument = "tape", by = "owner" },
  { value = ''29 1/32"'', instrument = "steel rule", by = "fitter" },
]
brake_offset = { value = ''2 23/64"'', instrument = "straightedge", by = "fitter" }
reach        = { value = ''26 7/8"'', instrument = "tape", by = "fitter" }

[right]
overall_length = [
  { value = ''30 3/16"'', instrument = "tape", by = "owner" },
  { value = ''30 13/64"'', instrument = "steel rule", by = "fitter" },
]
brake_offset = { value = "2.345", instrument = "depth gauge", by = "fitter" }
reach        = { value = ''28 1/16"'', instrument = "tape", by = "fitter" }
');
INSERT INTO public.revision VALUES (2, 1, 0, 1772438580000000, 'a customer', 'taken in', '', '', '', NULL, '[order]
reference    = "Q-0102"
axle         = "light axle under the market wagon"
use          = "street"
unit         = "in"
differential = "open"
sides        = ["left", "right"]

[fitting]
bearings = "shop"
studs    = "shop"

[bearing]
row = "35x72x17 ball"

[brake]
kind     = "drum"
retainer = "plate"

[stud]
thread = "7/16-20"

[flange]
access_hole        = ''1"''
access_hole_circle = ''4 1/4"''

[shared]
shoulder_distance     = { value = ["2.13", "2.14", "2.13"], instrument = "caliper", by = "owner" }
brake_offset          = { value = "2.20", instrument = "depth gauge", by = "owner" }
flange_thickness      = { value = ["0.357", "0.359"], instrument = "caliper" }
flange_diameter       = ''5 3/4"''
register_diameter     = { value = ["2.559", "2.5585", "2.5595"], instrument = "caliper, careful hand" }
register_height       = "0.20"
wheel_pilot_diameter  = "2.421"
wheel_pilot_height    = ''1/2"''
drum_bore             = { value = ["2.565", "2.5655", "2.565"], instrument = "caliper, careful hand" }
drum_inside           = ''6 3/16"''
wheel_bore            = "2.451"
journal_diameter      = { value = "1.3788", instrument = "micrometer", by = "machinist next door" }
ring_seat_diameter    = { value = "1.3754", instrument = "micrometer", by = "machinist next door" }
seal_journal_diameter = "1.357"
bearing_outside       = "72 mm"
bearing_outer_width   = "17 mm"
housing_bore_diameter = "2.836"
housing_bore_depth    = { value = "0.597", instrument = "depth gauge" }
trapped_thickness     = "0.064"
bolt_rectangle_long   = "3.11"
bolt_rectangle_short  = "2.145"
housing_bolt_hole     = "0.391"
hole_count            = 5
edge_gap              = "2.178"
edge_span             = "3.112"
chord_alternate       = "4.287"
stud_hole             = "0.469"
tooth_count           = 28
spline_major_diameter = "1.187"
spline_over_pins      = { value = "1.2990", pin = "0.080", instrument = "micrometer", by = "machinist next door" }
housing_width         = { value = ''53 1/16"'', instrument = "tape" }

[left]
overall_length = { value = ''27 1/16"'', instrument = "tape", by = "owner" }
reach          = { value = ''25 7/16"'', instrument = "tape", by = "owner" }

[right]
overall_length = { value = ''28 7/8"'', instrument = "tape", by = "owner" }
reach          = { value = ''26 7/8"'', instrument = "tape", by = "owner" }
');


--
-- Data for Name: saved_view; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.saved_view VALUES (1, 'all', '{"search":"","states":[],"verdicts":[],"sort":"newest","at_most":50}');


--
-- Data for Name: schema_step; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.schema_step VALUES (1, 1772438400000000);
INSERT INTO public.schema_step VALUES (2, 1772438400000000);
INSERT INTO public.schema_step VALUES (3, 1772438400000000);
INSERT INTO public.schema_step VALUES (4, 1772438400000000);


--
-- Data for Name: search_word; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.search_word VALUES ('0101', 1);
INSERT INTO public.search_word VALUES ('1', 1);
INSERT INTO public.search_word VALUES ('10', 1);
INSERT INTO public.search_word VALUES ('12', 1);
INSERT INTO public.search_word VALUES ('120', 1);
INSERT INTO public.search_word VALUES ('1207', 1);
INSERT INTO public.search_word VALUES ('1220', 1);
INSERT INTO public.search_word VALUES ('1532', 1);
INSERT INTO public.search_word VALUES ('2', 1);
INSERT INTO public.search_word VALUES ('20', 1);
INSERT INTO public.search_word VALUES ('21', 1);
INSERT INTO public.search_word VALUES ('230', 1);
INSERT INTO public.search_word VALUES ('24', 1);
INSERT INTO public.search_word VALUES ('2448', 1);
INSERT INTO public.search_word VALUES ('3', 1);
INSERT INTO public.search_word VALUES ('30', 1);
INSERT INTO public.search_word VALUES ('31', 1);
INSERT INTO public.search_word VALUES ('345', 1);
INSERT INTO public.search_word VALUES ('4', 1);
INSERT INTO public.search_word VALUES ('45', 1);
INSERT INTO public.search_word VALUES ('4750', 1);
INSERT INTO public.search_word VALUES ('48', 1);
INSERT INTO public.search_word VALUES ('5', 1);
INSERT INTO public.search_word VALUES ('532', 1);
INSERT INTO public.search_word VALUES ('7', 1);
INSERT INTO public.search_word VALUES ('750', 1);
INSERT INTO public.search_word VALUES ('80', 1);
INSERT INTO public.search_word VALUES ('at', 1);
INSERT INTO public.search_word VALUES ('ball', 1);
INSERT INTO public.search_word VALUES ('bore', 1);
INSERT INTO public.search_word VALUES ('drum', 1);
INSERT INTO public.search_word VALUES ('drums', 1);
INSERT INTO public.search_word VALUES ('fillet', 1);
INSERT INTO public.search_word VALUES ('from', 1);
INSERT INTO public.search_word VALUES ('hay', 1);
INSERT INTO public.search_word VALUES ('holes', 1);
INSERT INTO public.search_word VALUES ('housing', 1);
INSERT INTO public.search_word VALUES ('in', 1);
INSERT INTO public.search_word VALUES ('mm', 1);
INSERT INTO public.search_word VALUES ('muller', 1);
INSERT INTO public.search_word VALUES ('on', 1);
INSERT INTO public.search_word VALUES ('open', 1);
INSERT INTO public.search_word VALUES ('q', 1);
INSERT INTO public.search_word VALUES ('q0101', 1);
INSERT INTO public.search_word VALUES ('root', 1);
INSERT INTO public.search_word VALUES ('stout', 1);
INSERT INTO public.search_word VALUES ('tamsin', 1);
INSERT INTO public.search_word VALUES ('teeth', 1);
INSERT INTO public.search_word VALUES ('the', 1);
INSERT INTO public.search_word VALUES ('truck', 1);
INSERT INTO public.search_word VALUES ('unf', 1);
INSERT INTO public.search_word VALUES ('weir', 1);
INSERT INTO public.search_word VALUES ('x', 1);
INSERT INTO public.search_word VALUES ('0102', 2);
INSERT INTO public.search_word VALUES ('10', 2);
INSERT INTO public.search_word VALUES ('114', 2);
INSERT INTO public.search_word VALUES ('1143', 2);
INSERT INTO public.search_word VALUES ('15', 2);
INSERT INTO public.search_word VALUES ('16', 2);
INSERT INTO public.search_word VALUES ('2', 2);
INSERT INTO public.search_word VALUES ('20', 2);
INSERT INTO public.search_word VALUES ('215', 2);
INSERT INTO public.search_word VALUES ('24', 2);
INSERT INTO public.search_word VALUES ('2448', 2);
INSERT INTO public.search_word VALUES ('28', 2);
INSERT INTO public.search_word VALUES ('3', 2);
INSERT INTO public.search_word VALUES ('310', 2);
INSERT INTO public.search_word VALUES ('35x72x17', 2);
INSERT INTO public.search_word VALUES ('4', 2);
INSERT INTO public.search_word VALUES ('45', 2);
INSERT INTO public.search_word VALUES ('4500', 2);
INSERT INTO public.search_word VALUES ('48', 2);
INSERT INTO public.search_word VALUES ('5', 2);
INSERT INTO public.search_word VALUES ('500', 2);
INSERT INTO public.search_word VALUES ('7', 2);
INSERT INTO public.search_word VALUES ('71620', 2);
INSERT INTO public.search_word VALUES ('72', 2);
INSERT INTO public.search_word VALUES ('axle', 2);
INSERT INTO public.search_word VALUES ('ball', 2);
INSERT INTO public.search_word VALUES ('bore', 2);
INSERT INTO public.search_word VALUES ('fillet', 2);
INSERT INTO public.search_word VALUES ('holes', 2);
INSERT INTO public.search_word VALUES ('in', 2);
INSERT INTO public.search_word VALUES ('light', 2);
INSERT INTO public.search_word VALUES ('market', 2);
INSERT INTO public.search_word VALUES ('mm', 2);
INSERT INTO public.search_word VALUES ('on', 2);
INSERT INTO public.search_word VALUES ('open', 2);
INSERT INTO public.search_word VALUES ('q', 2);
INSERT INTO public.search_word VALUES ('q0102', 2);
INSERT INTO public.search_word VALUES ('root', 2);
INSERT INTO public.search_word VALUES ('teeth', 2);
INSERT INTO public.search_word VALUES ('the', 2);
INSERT INTO public.search_word VALUES ('under', 2);
INSERT INTO public.search_word VALUES ('unf', 2);
INSERT INTO public.search_word VALUES ('wagon', 2);
INSERT INTO public.search_word VALUES ('x', 2);


--
-- Data for Name: session; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Data for Name: sign_in; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Data for Name: token; Type: TABLE DATA; Schema: public; Owner: -
--

INSERT INTO public.token VALUES (1, 'accounts', 'accounts', 'read-only', '80e2905362711d65bcdad8eb247390cf0e0ec59115bd6f60bb589080915f69cc', 1772438820000000, 'Morwen Ostrey', NULL, NULL);


--
-- Data for Name: work_record; Type: TABLE DATA; Schema: public; Owner: -
--



--
-- Name: account account_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.account
    ADD CONSTRAINT account_pkey PRIMARY KEY (number);


--
-- Name: counter counter_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.counter
    ADD CONSTRAINT counter_pkey PRIMARY KEY (name);


--
-- Name: decided_size decided_size_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.decided_size
    ADD CONSTRAINT decided_size_pkey PRIMARY KEY (order_number, kind, side);


--
-- Name: draft draft_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.draft
    ADD CONSTRAINT draft_pkey PRIMARY KEY (account_number, topic);


--
-- Name: event event_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.event
    ADD CONSTRAINT event_pkey PRIMARY KEY (sequence);


--
-- Name: inspected_size inspected_size_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.inspected_size
    ADD CONSTRAINT inspected_size_pkey PRIMARY KEY (order_number, "position");


--
-- Name: log_end log_end_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.log_end
    ADD CONSTRAINT log_end_pkey PRIMARY KEY (one);


--
-- Name: message message_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.message
    ADD CONSTRAINT message_pkey PRIMARY KEY (number);


--
-- Name: orders orders_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.orders
    ADD CONSTRAINT orders_pkey PRIMARY KEY (number);


--
-- Name: photo_picture photo_picture_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.photo_picture
    ADD CONSTRAINT photo_picture_pkey PRIMARY KEY (photo_number);


--
-- Name: photo photo_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.photo
    ADD CONSTRAINT photo_pkey PRIMARY KEY (number);


--
-- Name: reading_change reading_change_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.reading_change
    ADD CONSTRAINT reading_change_pkey PRIMARY KEY (order_number, revision, "position");


--
-- Name: rereview_change rereview_change_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.rereview_change
    ADD CONSTRAINT rereview_change_pkey PRIMARY KEY (rereview_number, order_number);


--
-- Name: rereview rereview_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.rereview
    ADD CONSTRAINT rereview_pkey PRIMARY KEY (number);


--
-- Name: revision revision_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.revision
    ADD CONSTRAINT revision_pkey PRIMARY KEY (order_number, revision);


--
-- Name: saved_view saved_view_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.saved_view
    ADD CONSTRAINT saved_view_pkey PRIMARY KEY (account_number, name);


--
-- Name: schema_step schema_step_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.schema_step
    ADD CONSTRAINT schema_step_pkey PRIMARY KEY (number);


--
-- Name: search_word search_word_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.search_word
    ADD CONSTRAINT search_word_pkey PRIMARY KEY (word, order_number);


--
-- Name: session session_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.session
    ADD CONSTRAINT session_pkey PRIMARY KEY (token_digest);


--
-- Name: sign_in sign_in_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.sign_in
    ADD CONSTRAINT sign_in_pkey PRIMARY KEY (number);


--
-- Name: token token_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.token
    ADD CONSTRAINT token_pkey PRIMARY KEY (number);


--
-- Name: work_record work_record_pkey; Type: CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.work_record
    ADD CONSTRAINT work_record_pkey PRIMARY KEY (order_number, "position");


--
-- Name: account_by_name; Type: INDEX; Schema: public; Owner: -
--

CREATE UNIQUE INDEX account_by_name ON public.account USING btree (name_key);


--
-- Name: decided_size_by_size; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX decided_size_by_size ON public.decided_size USING btree (kind, size, order_number);


--
-- Name: event_of_order; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX event_of_order ON public.event USING btree (order_number, sequence);


--
-- Name: message_of_order; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX message_of_order ON public.message USING btree (order_number, number);


--
-- Name: orders_by_change; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX orders_by_change ON public.orders USING btree (state, verdict, changed_at, number);


--
-- Name: orders_by_reference; Type: INDEX; Schema: public; Owner: -
--

CREATE UNIQUE INDEX orders_by_reference ON public.orders USING btree (reference_key);


--
-- Name: orders_by_state; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX orders_by_state ON public.orders USING btree (state, verdict, number);


--
-- Name: orders_by_time; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX orders_by_time ON public.orders USING btree (changed_at, number);


--
-- Name: photo_of_order; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX photo_of_order ON public.photo USING btree (order_number, number);


--
-- Name: search_word_of_order; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX search_word_of_order ON public.search_word USING btree (order_number, word);


--
-- Name: session_of_account; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX session_of_account ON public.session USING btree (account_number);


--
-- Name: sign_in_by_name; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX sign_in_by_name ON public.sign_in USING btree (name_key, at);


--
-- Name: token_by_digest; Type: INDEX; Schema: public; Owner: -
--

CREATE UNIQUE INDEX token_by_digest ON public.token USING btree (token_digest);


--
-- Name: token_by_name; Type: INDEX; Schema: public; Owner: -
--

CREATE INDEX token_by_name ON public.token USING btree (name_key);


--
-- Name: decided_size decided_size_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.decided_size
    ADD CONSTRAINT decided_size_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: draft draft_account_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.draft
    ADD CONSTRAINT draft_account_number_fkey FOREIGN KEY (account_number) REFERENCES public.account(number);


--
-- Name: inspected_size inspected_size_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.inspected_size
    ADD CONSTRAINT inspected_size_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: message message_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.message
    ADD CONSTRAINT message_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: photo photo_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.photo
    ADD CONSTRAINT photo_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: photo_picture photo_picture_photo_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.photo_picture
    ADD CONSTRAINT photo_picture_photo_number_fkey FOREIGN KEY (photo_number) REFERENCES public.photo(number);


--
-- Name: reading_change reading_change_order_number_revision_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.reading_change
    ADD CONSTRAINT reading_change_order_number_revision_fkey FOREIGN KEY (order_number, revision) REFERENCES public.revision(order_number, revision);


--
-- Name: rereview_change rereview_change_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.rereview_change
    ADD CONSTRAINT rereview_change_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: rereview_change rereview_change_rereview_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.rereview_change
    ADD CONSTRAINT rereview_change_rereview_number_fkey FOREIGN KEY (rereview_number) REFERENCES public.rereview(number);


--
-- Name: revision revision_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.revision
    ADD CONSTRAINT revision_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: saved_view saved_view_account_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.saved_view
    ADD CONSTRAINT saved_view_account_number_fkey FOREIGN KEY (account_number) REFERENCES public.account(number);


--
-- Name: search_word search_word_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.search_word
    ADD CONSTRAINT search_word_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- Name: session session_account_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.session
    ADD CONSTRAINT session_account_number_fkey FOREIGN KEY (account_number) REFERENCES public.account(number);


--
-- Name: work_record work_record_order_number_fkey; Type: FK CONSTRAINT; Schema: public; Owner: -
--

ALTER TABLE ONLY public.work_record
    ADD CONSTRAINT work_record_order_number_fkey FOREIGN KEY (order_number) REFERENCES public.orders(number);


--
-- PostgreSQL database dump complete
--


