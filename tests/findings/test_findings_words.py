"""Findings come out in words, values shown by the ending of their names."""

from __future__ import annotations

import pytest

from clochewright.errors import MeasureError
from clochewright.findings import Finding, Level, Words, say, word, words

EXAMPLES = {
    "frame.too-narrow": Words(
        "The bed is {width_m} wide at {where}.", "The feet need {need_m}.", "Make it {need_m}, or leave out {roles}."
    ),
    "frame.gap": Words("A gap of {gap_m}.", "Water.", ""),
    "job.figures": Words(
        "{lift_kg} {slope_deg} {gust_m_s} {night_degC} {lift_K} {pull_N} {snow_Pa} {stick_money} {count} {share} {ok}",
        "{sizes_m} {lid_moment_N_m}", "{prices_money}",
    ),
    "drawings.label.stick": "Stick {number}: {length}",
    "cuts.from": "From {sticks:stick|sticks} of {length}",
}  # fmt: skip


@pytest.fixture
def example_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(words, "_catalogue", lambda: EXAMPLES)


def finding(key: str, **values: object) -> Finding:
    return Finding(Level.WARN, key.partition(".")[0], key, "bed.width", values)


NARROW = finding("frame.too-narrow", width_m=0.3048, need_m=0.4191, roles=("brace", "ridge"), where="bed.width")


@pytest.mark.usefixtures("example_words")
class TestWithExampleWords:
    def test_lengths_are_shown_in_the_plans_units(self) -> None:
        assert say(NARROW, "inch") == Words(
            "The bed is 12 in wide at bed.width.",
            "The feet need 16 1/2 in.",
            "Make it 16 1/2 in, or leave out brace, ridge.",
        )
        assert say(NARROW, "mm").why == "The feet need 419 mm."

    def test_every_ending_is_shown_as_what_it_is(self) -> None:
        figures = finding(
            "job.figures", lift_kg=5.63, slope_deg=22.5, gust_m_s=15.6464, night_degC=4.0, lift_K=5.0, pull_N=52.6,
            snow_Pa=957.6, stick_money=12.5, count=3, share=0.030000000001, ok=True, sizes_m=[2.4384, 3.048],
            lid_moment_N_m=2.5, prices_money=(1, 2.25),
        )  # fmt: skip
        assert say(figures, "inch", "£") == Words(
            "12.4 lb 22.5° 35 mph 39 °F 9 °F 12 lbf 20 psf £12.50 3 0.03 True", "96 in, 120 in 2.5", "£1.00, £2.25"
        )
        assert say(figures, "mm", "EUR") == Words(
            "5.6 kg 22.5° 15.6 m/s 4 °C 5 °C 53 N 958 Pa 12.50 EUR 3 0.03 True",
            "2438 mm, 3048 mm 2.5", "1.00 EUR, 2.25 EUR",
        )  # fmt: skip

    @pytest.mark.parametrize(("gap_m", "inches", "metric"), [
        (0.0, "0 in", "0 mm"),
        (0.0003, "less than 1/16 in", "less than 1 mm"),
        (-0.0003, "less than 1/16 in", "less than 1 mm"),
        (0.0015875, "1/16 in", "2 mm"),
    ])  # fmt: skip
    def test_a_length_too_short_for_the_tape_is_not_called_nothing(
        self, gap_m: float, inches: str, metric: str
    ) -> None:
        assert say(finding("frame.gap", gap_m=gap_m), "inch").what == f"A gap of {inches}."
        assert say(finding("frame.gap", gap_m=gap_m), "mm").what == f"A gap of {metric}."

    def test_values_already_in_words_stay_as_they_are(self) -> None:
        assert say(finding("frame.gap", gap_m="a hand's width"), "inch").what == "A gap of a hand's width."

    def test_a_length_without_sense_is_never_printed(self) -> None:
        with pytest.raises(MeasureError):
            say(finding("frame.gap", gap_m=float("nan")), "inch")

    def test_unknown_keys_and_missing_values_are_mistakes_in_the_program(self) -> None:
        with pytest.raises(KeyError, match=r"no finding 'frame\.unheard-of'"):
            say(finding("frame.unheard-of"), "inch")
        with pytest.raises(KeyError, match="no finding"):
            say(finding("drawings.label.stick"), "inch")
        with pytest.raises(KeyError, match=r"'frame\.gap' ask for 'gap_m'"):
            say(finding("frame.gap", gap=0.1), "inch")
        with pytest.raises(KeyError, match=r"no text 'frame\.gap'"):
            word("frame.gap")
        with pytest.raises(KeyError, match="ask for 'length'"):
            word("drawings.label.stick", number=1)

    def test_labels_are_filled_as_they_come(self) -> None:
        assert word("drawings.label.stick", number=2, length="10 ft") == "Stick 2: 10 ft"

    @pytest.mark.parametrize(("sticks", "expected"), [
        (0, "From 0 sticks of 10 ft"), (1, "From 1 stick of 10 ft"), (11, "From 11 sticks of 10 ft"),
    ])  # fmt: skip
    def test_a_count_brings_its_noun(self, sticks: int, expected: str) -> None:
        assert word("cuts.from", sticks=sticks, length="10 ft") == expected
