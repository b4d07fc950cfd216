"""Records drawn at random: any text that can be stored, any number in range."""

from datetime import UTC, datetime, timedelta, timezone

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.app import (
    Contents,
    FeelRecord,
    Kept,
    KeptTrial,
    Learned,
    Learning,
    MeasurementRecord,
    Share,
    SharpenedRecord,
    TrialRecord,
)

letters = st.characters(exclude_characters="\0", exclude_categories=["Cs"])
odd = st.sampled_from(["=1+1", '"', "a,b;c\td", "line\nline", "\r", " x ", "null", "[1]", "Ü³ 木"])
notes = st.text(letters, max_size=12) | odd
names = notes.filter(str.strip)
mm = st.floats(-100, 100)
sizes = st.floats(0, 100)
zones = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
moments = st.datetimes(datetime(1000, 1, 1), datetime(9000, 1, 1), timezones=zones)
kinds = st.sampled_from(["height zero", "fence zero", "cutter", "lift", "setting"])
unknowns = st.lists(st.tuples(kinds, notes), max_size=3, unique=True)


@st.composite
def measurements(draw: DrawFn) -> MeasurementRecord:
    return MeasurementRecord(
        what=draw(names),
        readings=tuple(draw(st.lists(mm, min_size=1, max_size=3))),
        read=draw(mm),
        expected=draw(mm),
        uncertainty=draw(sizes),
        row=tuple(Share(kind=k, owner=o, factor=draw(mm)) for k, o in draw(unknowns)),
        shared=tuple((name, draw(mm)) for name in draw(st.lists(names, max_size=2, unique=True))),
    )


@st.composite
def learnings(draw: DrawFn) -> Learning:
    values = tuple(
        Learned(kind=k, owner=o, mean=draw(mm), sd=draw(sizes), datum=draw(mm))
        for k, o in draw(unknowns)
    )
    together = draw(st.floats(-1, 1))
    covariance = tuple(
        tuple(one.sd * other.sd * (1 if one is other else together) for other in values)
        for one in values
    )
    return Learning(values=values, covariance=covariance)


@st.composite
def trials(draw: DrawFn) -> TrialRecord:
    side, setup, group, machine, cutter, gauge = (draw(notes) for _ in range(6))
    return TrialRecord(
        shop=draw(names),
        piece=draw(names),
        joint=draw(names),
        at=draw(moments),
        side=side,
        setup=setup,
        group=group,
        machine=machine,
        cutter=cutter,
        gauge=gauge,
        metres=draw(sizes),
        note=draw(notes),
        measurements=tuple(draw(st.lists(measurements(), max_size=2))),
        learning=draw(learnings()),
    )


@st.composite
def sharpenings(draw: DrawFn) -> SharpenedRecord:
    measured = (draw(sizes), draw(sizes), draw(sizes)) if draw(st.booleans()) else (None,) * 3
    size, sd, listed = measured
    return SharpenedRecord(
        shop=draw(names),
        cutter=draw(names),
        at=draw(moments),
        size=size,
        sd=sd,
        listed=listed,
        note=draw(notes),
    )


@st.composite
def stores(draw: DrawFn) -> Contents:
    """All that a store may hold: numbers with gaps, feels of trials that are there."""
    numbers = sorted(draw(st.sets(st.integers(1, 50), max_size=4)))
    kept = tuple(KeptTrial(n, draw(trials()), draw(st.none() | moments)) for n in numbers)
    feels = []
    for number in range(1, 1 + draw(st.integers(0, 2))):
        of = draw(st.sampled_from([None, *kept]))
        feel = FeelRecord(
            shop=draw(names) if of is None else of.record.shop,
            timber=draw(names),
            word=draw(names),
            mean=draw(mm),
            sd=draw(sizes),
            at=draw(moments),
            trial=None if of is None else of.id,
            joint=draw(names),
        )
        feels.append(Kept(3 * number, feel))
    sharpened = draw(st.lists(sharpenings(), max_size=2))
    return Contents(
        kept, tuple(feels), tuple(Kept(n, each) for n, each in enumerate(sharpened, start=1))
    )


NEW_YEAR = datetime(2026, 1, 1, 12, tzinfo=UTC)


def a_trial(
    *means: float, day: int = 0, shop: str = "Mill Lane", cutter: str = "SC12", joint: str = "J1"
) -> TrialRecord:
    """A plain trial that teaches a cutter's size and, if told, a gauge's zero."""
    unknowns = [("cutter", cutter), ("height zero", "dial")]
    values = tuple(
        Learned(kind=kind, owner=owner, mean=mean, sd=0.02, datum=12.7)
        for (kind, owner), mean in zip(unknowns, means, strict=False)
    )
    covariance = tuple(
        tuple(0.0004 if one is other else -0.0001 for other in values) for one in values
    )
    row = (Share(kind="cutter", owner=cutter, factor=-1.0),)
    read = MeasurementRecord(
        what="tongue", readings=(6.05, 6.03), read=6.04, expected=6.0, uncertainty=0.02, row=row
    )
    return TrialRecord(
        shop=shop,
        piece="hall bench",
        joint=joint,
        at=NEW_YEAR + timedelta(days=day),
        machine="RT1",
        cutter=cutter,
        gauge="dial",
        metres=1.2,
        measurements=(read,),
        learning=Learning(values=values, covariance=covariance),
    )


def a_sharpening(*, day: int, size: float | None = None) -> SharpenedRecord:
    measured = size is not None
    return SharpenedRecord(
        shop="Mill Lane",
        cutter="SC12",
        at=NEW_YEAR + timedelta(days=day),
        size=size,
        sd=0.01 if measured else None,
        listed=12.7 if measured else None,
    )


def a_feel(*, trial: int | None = None, timber: str = "ash", word: str = "slides") -> FeelRecord:
    return FeelRecord(
        shop="Mill Lane",
        timber=timber,
        word=word,
        mean=0.12,
        sd=0.02,
        at=NEW_YEAR,
        trial=trial,
        joint="J1",
    )
