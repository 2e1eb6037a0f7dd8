"""Weather files: sound ones read as pvlib reads them, bad ones named by line, small gaps mended and told."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pvlib
import pytest

from clochewright.errors import FolderError
from clochewright.findings import Level, say
from clochewright.site import MONTH_DAYS, read_weather, weather_from_text

GREENSBORO = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
SAND_POINT = Path(pvlib.__file__).parent / "data" / "703165TY.csv"  # Alaska, with other heads than the first
EPW_HEAD = [
    "LOCATION,Sorrel Yard,-,-,invented,000000,44.0,-75.0,-5.0,150.0",
    *[f"{name},0" for name in ("DESIGN CONDITIONS", "TYPICAL/EXTREME PERIODS", "GROUND TEMPERATURES")],
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,invented", "COMMENTS 2,invented",
    "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
]  # fmt: skip


def epw_rows():
    """A whole invented year as EPW fields: 35 a row."""
    rows = []
    k = 0
    for month, days in enumerate(MONTH_DAYS, start=1):
        for day in range(1, days + 1):
            for hour in range(1, 25):
                warm = 10 - 12 * np.cos(2 * np.pi * k / 8760) - 5 * np.cos(2 * np.pi * (hour - 3) / 24)
                sun = max(0.0, 500 * np.sin(np.pi * (hour - 6) / 12)) if 6 < hour < 18 else 0.0
                row = ["1999", str(month), str(day), str(hour), "60", "?", f"{warm:.1f}", f"{warm - 3:.1f}", "80",
                       "99500", "0", "0", "310", f"{sun:.0f}", f"{sun:.0f}", f"{sun / 4:.0f}", "0", "0", "0", "0",
                       "180", "3.1", "5", "4",
                       "20", "7000", "0", "0", "0", "0.1", "0", "0", "0.2", "0", "0"]  # fmt: skip
                rows.append(row)
                k += 1
    return rows


def epw(rows, head=EPW_HEAD):
    return "\n".join([*head, *(",".join(row) for row in rows)]) + "\n"


@pytest.fixture(scope="module")
def sound_rows():
    return epw_rows()


@pytest.fixture
def rows(sound_rows):
    return [row.copy() for row in sound_rows]


def only(read, key):
    """The one finding of that key, its words filled."""
    found = [finding for finding in read.findings if finding.key == key]
    assert len(found) == 1, [finding.key for finding in read.findings]
    words = say(found[0], "mm")
    assert words.what
    return found[0]


@pytest.mark.parametrize("path", [GREENSBORO, SAND_POINT], ids=lambda path: path.name)
def test_a_tmy3_file_reads_as_pvlib_reads_it(path):
    """pvlib.iotools.read_tmy3 stamps an hour by its end; the rows are ours."""
    read = read_weather(path)
    theirs, about = pvlib.iotools.read_tmy3(path, coerce_year=2023, map_variables=True)
    assert read.findings == ()
    assert (read.place.latitude_deg, read.place.longitude_deg) == (about["latitude"], about["longitude"])
    assert read.place.utc_offset_h_count == about["TZ"]
    assert theirs.index[0].hour == 1
    for ours, name in (("air_degC", "temp_air"), ("dew_degC", "temp_dew"), ("wind_m_s", "wind_speed"),
                       ("global_W_m2", "ghi"), ("beam_W_m2", "dni"), ("diffuse_W_m2", "dhi")):  # fmt: skip
        assert np.array_equal(getattr(read.weather, ours)[0], theirs[name].to_numpy(dtype=float)), name


def test_an_epw_file_reads_as_pvlib_reads_it(rows, tmp_path):
    """pvlib.iotools.read_epw stamps an hour by its start; the rows are ours."""
    path = tmp_path / "sorrel.epw"
    path.write_text(epw(rows), encoding="utf-8")
    read = read_weather(path)
    theirs, about = pvlib.iotools.read_epw(path, coerce_year=2023)
    assert read.findings == ()
    assert (read.place.latitude_deg, read.place.altitude_m) == (about["latitude"], about["altitude"])
    assert theirs.index[0].hour == 0
    for ours, name in (("air_degC", "temp_air"), ("sky_W_m2", "ghi_infrared"), ("global_W_m2", "ghi"),
                       ("beam_W_m2", "dni"), ("wind_m_s", "wind_speed")):  # fmt: skip
        assert np.array_equal(getattr(read.weather, ours)[0], theirs[name].to_numpy(dtype=float)), name
    assert np.allclose(read.weather.cloud_share, 0.4)


def test_the_sun_of_both_kinds_of_file_is_highest_at_noon(rows):
    """Row k is the hour k to k + 1: at Greensboro's longitude the sun culminates at 12:20 standard time."""
    sun = read_weather(GREENSBORO).weather.global_W_m2[0].reshape(365, 24).mean(axis=0)
    centre = float((sun * (np.arange(24) + 0.5)).sum() / sun.sum())
    assert centre == pytest.approx(12.33, abs=0.25)


def test_marks_for_missing_are_filled_and_told(rows):
    for k in (100, 101, 102):
        rows[k][6] = "99.9"
    rows[5000][21] = "999"
    read = weather_from_text(epw(rows), "sorrel.epw")
    told = [(finding.level, finding.where) for finding in read.findings]
    assert told == [(Level.NOTE, "sorrel.epw, line 109"), (Level.NOTE, "sorrel.epw, line 5009")]
    assert read.weather.air_degC.max() < 60
    assert read.weather.air_degC[0, 101] == pytest.approx((float(rows[99][6]) + float(rows[103][6])) / 2, abs=0.01)


def test_too_many_missing_are_refused(rows):
    for row in rows[:400]:
        row[7] = "99.9"
    read = weather_from_text(epw(rows), "sorrel.epw")
    assert read.weather is None
    assert only(read, "site.weather-missing").where == "sorrel.epw, line 9"


def test_an_infrared_column_without_values_is_left_out(rows):
    for row in rows:
        row[12] = "9999"
    read = weather_from_text(epw(rows), "sorrel.epw")
    assert read.weather.sky_W_m2 is None
    assert read.findings == ()


def test_missing_hours_are_filled_and_told(rows):
    read = weather_from_text(epw(rows[:3000] + rows[3010:]), "sorrel.epw")
    finding = only(read, "site.weather-hours-filled")
    assert finding.values["hours"] == 10
    assert finding.where == "sorrel.epw, after line 3008"
    assert np.isfinite(read.weather.air_degC).all()


def test_a_file_that_was_cut_off_is_refused(rows):
    read = weather_from_text(epw(rows[:6000]), "sorrel.epw")
    assert read.weather is None
    assert only(read, "site.weather-short").where == "sorrel.epw, after line 6008"
    read = weather_from_text(epw([*rows[:6000], rows[6000][:9]]), "sorrel.epw")
    assert only(read, "site.weather-line").where == "sorrel.epw, line 6009"


def test_a_leap_day_is_left_out_and_told(rows):
    feb = [[*row[:1], "2", "29", *row[3:]] for row in rows[58 * 24 : 59 * 24]]
    read = weather_from_text(epw(rows[: 59 * 24] + feb + rows[59 * 24 :]), "sorrel.epw")
    assert only(read, "site.weather-leap-day").values["hours"] == 24
    assert read.weather.air_degC.shape == (1, 8760)
    assert read.weather.air_degC[0, 59 * 24] == float(rows[59 * 24][6])


def test_an_hour_twice_is_refused(rows):
    rows[500][3] = rows[499][3]
    read = weather_from_text(epw(rows), "sorrel.epw")
    finding = only(read, "site.weather-twice")
    assert (finding.where, finding.values["first_line"]) == ("sorrel.epw, line 509", 508)


@pytest.mark.parametrize(
    ("field", "change", "key", "line"),
    [
        (6, lambda text: f"{float(text) * 1.8 + 32:.1f}", "site.weather-value", None),  # some over 60: no such air
        (6, lambda text: f"{float(text) + 26:.1f}", "site.weather-fahrenheit", 9),
        (21, lambda _: "120", "site.weather-value", 9),
        (13, lambda text: f"{float(text) * 3.6:.0f}", "site.weather-value", None),
        (3, lambda _: "25", "site.weather-hour", 9),
        (2, lambda _: "x", "site.weather-line", 9),
    ],
    ids=["fahrenheit", "warm", "wind", "sun in kJ", "hour", "date"],
)
def test_wrong_units_and_slips_are_named_by_line(rows, field, change, key, line):
    for row in rows:
        row[field] = change(row[field])
    read = weather_from_text(epw(rows), "sorrel.epw")
    assert read.weather is None
    finding = only(read, key)
    assert finding.level is Level.STOP
    assert finding.where.startswith("sorrel.epw, line ")
    assert line is None or finding.where == f"sorrel.epw, line {line}"


def test_a_mild_place_in_fahrenheit_is_seen(rows):
    """A place with no hour over 60 degF: read as Celsius its mean is hotter than any place on earth."""
    for row in rows:
        row[6] = f"{min(59.5, 36 + (float(row[6]) - 10) * 0.9):.1f}"
    read = weather_from_text(epw(rows), "sorrel.epw")
    assert only(read, "site.weather-fahrenheit").level is Level.STOP


@pytest.mark.parametrize("text", ["", "hello\nworld\n", "\n" * 20, "LOCATION,x\n" * 9, "\x00\x01" * 50])
def test_what_is_no_weather_is_refused(text):
    read = weather_from_text(text, "notes.txt")
    assert read.weather is None
    assert read.findings[0].level is Level.STOP


def test_a_changed_head_is_refused():
    lines = GREENSBORO.read_text(encoding="utf-8").splitlines()
    lines[1] = lines[1].replace("DNI (W/m^2)", "DNI")
    read = weather_from_text("\n".join(lines), "station.csv")
    assert only(read, "site.weather-column").where == "station.csv, line 2"


def test_a_file_that_is_not_there(tmp_path):
    with pytest.raises(FolderError):
        read_weather(tmp_path / "none.epw")


def test_a_line_that_never_ends_is_refused():
    read = weather_from_text("LOCATION," + "x" * 300_000 + "\n" * 9, "sorrel.epw")
    assert read.weather is None
    assert only(read, "site.weather-kind").where == "sorrel.epw, line 1"
