"""What the builder wants, as the plan file says it. Lengths are metres inside, text in the file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, NonNegativeInt

from clochewright.plan.bed_shape import BedShape, bed_shape
from clochewright.plan.fields import (
    AngleDeg,
    BedSize,
    Bents,
    Clearance,
    Count,
    Depth,
    FootAngle,
    GustSpeed,
    Kerf,
    MoneyAmount,
    Months,
    Sections,
    SnowLoad,
    Span,
    Tears,
    Thickness,
)
from clochewright.plan.growing import Altitude, Compass, Grow, MonthNormals, Shade
from clochewright.plan.opening import HoldDown, Lid
from clochewright.plan.panel import PANELLED, Panel
from clochewright.plan.place_fields import Latitude, Longitude
from clochewright.plan.section import Section

Units = Literal["inch", "mm"]
Question = Literal["fits-the-car", "cost", "stays-out"]
Shape = Literal["tent", "barn", "tunnel", "lean-to", "own"]
Line = Literal["outside", "middle", "inside"]
Apex = Literal["best", "pointed", "flat", "butted"]
Bench = Literal["plumbing", "furniture"]
SeatName = Literal["home", "dry"]
Side = Literal["left", "right"]
FilmEnds = Literal["best", "folded", "cut"]
ScrewPoints = Literal["inside", "through"]


class Tape(Section):
    """Four sides and two diagonals, all over the outside of the boards; they win over length and width."""

    left_m: BedSize = Field(alias="left", description="Left long side, seen from the front end.")
    right_m: BedSize = Field(alias="right", description="Right long side.")
    front_m: BedSize = Field(alias="front", description="Front short side.")
    far_m: BedSize = Field(alias="far", description="Far short side.")
    diagonal_left_m: BedSize = Field(alias="diagonal_left", description="Front left corner to far right corner.")
    diagonal_right_m: BedSize = Field(alias="diagonal_right", description="Front right corner to far left corner.")
    base: Literal["inside", "mean"] = Field(
        "inside", description="inside: a base made square that stands past no board. mean: one of the mean sizes.")


class Bed(Section):
    """The bed as a tape finds it."""

    length_m: BedSize = Field(alias="length", description="Length of the bed, along its long side.")
    width_m: BedSize = Field(alias="width", description="Width of the bed.")
    measured: Literal["outside", "inside"] = Field("outside", description="What length and width are measured over.")
    board_m: Thickness = Field(0.0381, alias="board", description="Thickness of the boards.")
    height_m: Clearance = Field(0.2794, alias="height", description="Height of the rim above the ground.")
    timber: str = Field("cedar", description="What the boards are made of.")
    tape: Tape | None = Field(None, description="Four sides and two diagonals, where the bed is not quite square.")

    @property
    def shape(self) -> BedShape | None:
        """The bed's own outline and the rectangle on it, where four sides and two diagonals were measured."""
        tape = self.tape
        if tape is None:
            return None
        sides = (tape.left_m, tape.right_m, tape.front_m, tape.far_m)
        return bed_shape(*sides, tape.diagonal_left_m, tape.diagonal_right_m, tape.base)

    @property
    def outside_length_m(self) -> float:
        """Length over the outside of the boards, or of the rectangle that a base on a bed out of square has [m]."""
        if self.shape is not None:
            return self.shape.length_m
        return self.length_m + (2 * self.board_m if self.measured == "inside" else 0.0)

    @property
    def outside_width_m(self) -> float:
        """Width over the outside of the boards, likewise [m]."""
        if self.shape is not None:
            return self.shape.width_m
        return self.width_m + (2 * self.board_m if self.measured == "inside" else 0.0)


class Cover(Section):
    """The shape of the cover and how it stands on the bed."""

    shape: Shape = Field(
        "tent",
        description="tent: two slopes meeting at a ridge. barn: short walls and a "
        "pitched roof. tunnel: hoops. lean-to: high back, low front. own: your "
        "profile.",
    )
    line: Line = Field(
        "outside",
        description="Where the base sits: hubs flush with the outside, pipe on the boards' "
        "middle, or hubs flush with the inside.",
    )
    apex: Apex = Field(
        "best",
        description="How the rafters meet: pointed (side-outlet fittings), butted (two tees in "
        "the ridge line, any pitch), flat (tee with two elbows), or the best of "
        "what your fittings allow.",
    )
    pitch_deg: AngleDeg | None = Field(None, alias="pitch", examples=["45 deg"], description="Slope of the roof.")
    height_m: Span | None = Field(
        None, alias="height", examples=["22 in", "560 mm"], description="Height wanted, rim to the top of the ridge."
    )
    bay_m: Span = Field(1.2192, alias="bay", description="Longest distance from one bent to the next.")
    bents: Bents | None = Field(None, examples=[3], description="Number of bents, if you would rather say it yourself.")
    braces: Literal["each", "none"] = Field("each", description="A brace across the base beside each inner bent.")
    end_inset_m: Clearance = Field(
        0.0, alias="end_inset", description="How much further in than its tightest place each end bent stands."
    )

    sections: Sections = Field(1, description="Covers standing end to end on one long bed.")


class Barn(Section):
    """A barn's walls."""

    walls_m: Span = Field(0.4572, alias="walls", description="From the rim to where the roof begins, pipe centre.")
    eaves: Literal["best", "in-line", "butted"] = Field(
        "best",
        description="How posts meet rafters: in-line (cross and elbow on the post), butted (two tees on the "
        "eave rail, any pitch), or the best of what your fittings allow.",
    )


class LeanTo(Section):
    """A lean-to's two heights, from the rim to pipe centre."""

    back_m: Span = Field(0.7112, alias="back", description="Height of the high side.")
    front_m: Clearance = Field(
        0.254, alias="front", description="Height of the low side; 0 puts the slope's foot on the base rail."
    )
    high_side: Side = Field("left", description="Which long side is high, seen from the front end.")
    wall_behind: bool = Field(False, description="Whether it stands against a wall.")


class Hoops(Section):
    """A tunnel's hoops."""

    feet: Literal["tees", "sleeves-inside", "sleeves-outside"] = Field(
        "tees", description="tees on base rails, or sleeves of wider pipe on the boards, inside or outside."
    )
    foot_angle_deg: FootAngle = Field(90.0, alias="foot_angle", description="How steeply the hoop leaves its foot.")
    crown: Literal["crosses", "tied", "none"] = Field(
        "tied", description="Bar along the top: in crosses (hoops in two halves), tied under the hoops, or none."
    )
    length_m: Span | None = Field(
        None,
        alias="length",
        examples=["8 ft", "2400 mm"],
        description="Length of pipe in one hoop, if you would rather say it yourself.",
    )
    sleeve_m: Span = Field(0.2032, alias="sleeve", description="Length of one sleeve.")


class Point(Section):
    """One point of a profile."""

    in_m: Clearance = Field(alias="in", description="How far in from the base rail's centre line.")
    up_m: Clearance = Field(alias="up", description="How high above the base rail's centre line.")


class Profile(Section):
    """A cross-section of your own, point by point from the left base rail."""

    points: tuple[Point, ...] = Field(
        (), description="Where the rails run, from left to right; half of them up to the ridge, or all of them."
    )
    whole: bool = Field(
        False, description="Whether the points are the whole profile; otherwise the right half mirrors them."
    )


class PipeChoice(Section):
    """Which pipe, and which fittings can be had."""

    size: str = Field("1 in", description='Pipe size as sold, such as "1 in" or "32 mm PN 16".')
    bench: Bench = Field(
        "plumbing", description="plumbing: what a plumber's merchant sells; furniture: structural fittings as well."
    )


class SeatFor(Section):
    """How deep the pipes of one role go, where it is not like the rest."""

    role: str = Field(examples=["ridge"], description='Which pipes, such as "ridge" or "brace".')
    seat: SeatName = Field(description="home: fully in. dry: as far as it pushes by hand.")


class HeldJoint(Section):
    """What holds the joints of one kind, where you would rather say it yourself."""

    role: str = Field(examples=["ridge"], description='Which pipes, such as "ridge" or "rafter".')
    at: str = Field("", examples=["rafter foot"], description="At which fittings, by what they do; all if left out.")
    how: Literal["cemented", "screwed", "screwed-dry"] = Field(
        description="cemented; screwed (fully in, the socket eased); or screwed-dry (as far as it pushes by hand)."
    )


class Joints(Section):
    """How the pipes sit in their sockets."""

    seat: SeatName = Field("home", description="home: fully in. dry: as far as it pushes by hand, and screwed.")
    seats: tuple[SeatFor, ...] = Field((), description="Roles whose pipes sit otherwise.")
    loose: Literal["eased", "dry"] = Field(
        "eased",
        description="How a pipe sits that is only screwed: eased (sand the socket until it goes fully in), or dry (as "
        "far as it pushes by hand).",
    )
    longest_m: Span | None = Field(
        None, alias="longest", examples=["4 ft", "1200 mm"],
        description="Longest piece of pipe; what is longer is joined by couplings.",
    )  # fmt: skip
    held: tuple[HeldJoint, ...] = Field((), description="Joints you would rather choose yourself.")


class Store(Section):
    """How it comes apart, and where it is kept when it is not on the bed."""

    wish: Literal["knock-down", "few-screws", "one-piece", "no-cement"] = Field(
        "knock-down",
        description="knock-down: flat parts and loose long pipes. few-screws: as few screws as the space allows. "
        "one-piece: never taken apart. no-cement: every joint screwed.",
    )
    length_m: Span | None = Field(
        None, alias="length", examples=["6 ft", "1800 mm"], description="Length of the space, under a bench say."
    )
    depth_m: Span | None = Field(None, alias="depth", examples=["2 ft", "600 mm"], description="How deep it is.")
    height_m: Span | None = Field(None, alias="height", examples=["16 in", "400 mm"], description="How high it is.")
    in_car: bool = Field(False, description="Whether every part has to go into the car as well.")


class OnHand(Section):
    """Pipe already in the shed."""

    length_m: Span = Field(alias="length", examples=["40 in", "1 m"], description="Length of each piece.")
    count: Count = Field(1, description="How many of them.")
    mark: str = Field("", max_length=40, description="Its old mark, if it has one.")
    cemented: str = Field("", description='The fitting cemented to one end, such as "tee"; length is then the bare '
                                          'pipe up to its stop.')
    port: str = Field("", description='Which of that fitting\'s sockets the pipe sits in, such as "branch".')
    sound_m: Span | None = Field(None, alias="sound", examples=["30 in", "800 mm"],
                                 description="How much of it is sound, from the fitting or from its better end, where "
                                             "it is cracked.")


class OldFittings(Section):
    """Loose fittings already in the shed."""

    kind: str = Field(description='Which fitting: "elbow-90", "tee", ...')
    count: Count = Field(1, description="How many of them.")


class Stock(Section):
    """The sticks to cut from."""

    sticks_m: tuple[Span, ...] = Field(
        (),
        alias="sticks",
        examples=[["10 ft"], ["3 m"]],
        description="Lengths of stick for sale; the catalogue's if you leave it out.",
    )
    on_hand: tuple[OnHand, ...] = Field((), description="Offcuts and old pipe, used first.")
    fittings: tuple[OldFittings, ...] = Field((), description="Old fittings, used before new ones are bought.")
    kerf_m: Kerf = Field(0.003175, alias="kerf", description="Width the saw takes away.")


class Car(Section):
    """The car that fetches the pipe."""

    inside_length_m: Span = Field(
        alias="inside_length", examples=["7 ft", "2100 mm"], description="Longest thing that goes in."
    )


class OldFilm(Section):
    """A sheet you have already: is it still good for this cover?"""

    length_m: Span = Field(alias="length", examples=["16 ft", "5 m"], description="Its longer side.")
    width_m: Span = Field(alias="width", examples=["10 ft", "3 m"], description="Its shorter side.")
    kind: str | None = Field(
        None, examples=["4 mil one-season film"], description="Which film it is; the same as the new one if left out."
    )
    months: Months = Field(0, description="Months it has stood in the sun.")
    tears: Tears = Field(0, description="Tears and holes in it.")


class SecondFilm(Section):
    """Another cover for the same frame, such as fleece for spring or mesh against flies."""

    kind: str = Field(examples=["insect mesh", "fleece 17 g/m2"], description="Cloth by its name in the catalogue.")


class Film(Section):
    """The clear film."""

    kind: str = Field("6 mil UV film", description="Film by its name in the catalogue.")
    overhang_m: Clearance = Field(0.3048, alias="overhang", description="Film past each bottom rail, rolled on a lath.")
    staple_gap_m: Clearance = Field(0.0762, alias="staple_gap", description="From one staple to the next.")
    screw_gap_m: Clearance = Field(0.3048, alias="screw_gap", description="From one lath screw to the next.")
    ends: FilmEnds = Field(
        "best", description="How the ends are closed: folded like a parcel, cut as gables of their own, or as suits "
                            "the shape."
    )
    screw_points: ScrewPoints = Field(
        "inside", description="Whether the lath screws' points stay inside the pipe or come through on its far side."
    )
    gust_m_s: GustSpeed = Field(22.352, alias="gust", description="The gust that the film is to stand.")
    old: OldFilm | None = Field(None, description="A sheet you have already.")
    more: tuple[SecondFilm, ...] = Field((), description="Other covers for the same frame.")


class Site(Section):
    """What wind and snow your place has to meet; the local building department knows these figures for your address."""

    code: Literal["by-units", "US", "EN"] = Field(
        "by-units", description="Whose rules for wind and snow: US (ASCE 7), EN (EN 1991), or as the units suggest."
    )
    design_gust_m_s: GustSpeed | None = Field(
        None,
        alias="design_gust",
        examples=["90 mph", "35 m/s"],
        description="Gust to build for: 3 seconds, 10 m (33 ft) up, over open country.",
    )
    ground_snow_Pa: SnowLoad | None = Field(
        None, alias="ground_snow", examples=["25 psf", "1.2 kN/m2"], description="Snow load on the ground."
    )
    exposure: Literal["sheltered", "open", "coast"] = Field(
        "open", description="What is around: sheltered (houses and trees on all sides), open country, or a coast."
    )
    place: str | None = Field(
        None,
        max_length=100,
        examples=["Sorrel Yard"],
        description="Name of the place; Sorrel Yard brings its own weather.",
    )
    latitude_deg: Latitude | None = Field(
        None, alias="latitude", examples=["44 N"], description="How far north or south."
    )
    longitude_deg: Longitude | None = Field(
        None, alias="longitude", examples=["75 W"], description="How far east or west."
    )
    altitude_m: Altitude = Field(0.0, alias="altitude", description="Height above the sea.")
    weather: str | None = Field(
        None, examples=["weather.epw"], description="Weather file of a typical year near you (EPW or TMY3)."
    )
    normals: MonthNormals | None = Field(None, description="Or what the months are like, from which years are drawn.")
    left_faces: Compass = Field("north", description="Which way the left long side looks.")
    shelter: Literal["open", "fenced", "walled"] = Field(
        "fenced",
        description="How much of the wind reaches the bed: open (most), fenced (under half), walled (a quarter).",
    )
    shade: Shade | None = Field(None, description="A wall, hedge or fence that takes sun.")


class Prices(Section):
    """What things cost."""

    file: str | None = Field(None, examples=["prices.csv"], description="Price file (CSV) of your own.")
    currency: str = Field("$", description="Sign shown before prices.")
    budget: MoneyAmount | None = Field(None, description="The most it may cost, where that is your first question.")


class OwnPipe(Section):
    """A pipe of your own, or another figure for one in the catalogue."""

    size: str = Field(examples=["1 in grey"], description="Its name.")
    outside_diameter_m: Thickness = Field(
        alias="outside_diameter", examples=["1 5/16 in", "33.4 mm"], description="Outside diameter."
    )
    wall_m: Thickness | None = Field(None, alias="wall", examples=["1/8 in", "3.4 mm"], description="Wall thickness.")
    sticks_m: tuple[Span, ...] = Field(
        (), alias="sticks", examples=[["10 ft"], ["3 m"]], description="Lengths it is sold in."
    )
    price: MoneyAmount | None = Field(None, description="Price of the first stick length.")


class OwnFitting(Section):
    """A fitting measured with a tape; it replaces the catalogue's figures for that kind."""

    kind: str = Field(examples=["tee"], description='Which fitting: "elbow-90", "tee", ...')
    port: str | None = Field(None, examples=["branch"], description='One socket only ("branch"); all if left out.')
    centre_to_stop_m: Depth | None = Field(None, alias="centre_to_stop", description="Centre to the stop.")
    socket_depth_m: Depth | None = Field(None, alias="socket_depth", description="Mouth to the stop.")
    hub_m: Thickness | None = Field(
        None, alias="hub", examples=["1 5/8 in", "41 mm"], description="Outside diameter of the hub."
    )
    bend_deg: AngleDeg | None = Field(None, alias="bend", description="Real angle of an elbow.")


class Own(Section):
    """Parts of your own; they win over the catalogue."""

    file: str | None = Field(None, examples=["parts.toml"], description="Part list (TOML) of your own.")
    pipes: tuple[OwnPipe, ...] = Field((), description="Pipes of your own.")
    fittings: tuple[OwnFitting, ...] = Field((), description="Fittings you have measured.")


class Built(Section):
    """What was really cut or measured; what is not yet cut is worked out anew to suit."""

    what: str = Field(
        description='A mark of the printed cut list ("B"), a kind of pipe ("rafter"), "base length" or "base width".'
    )
    reading_m: Span = Field(alias="reading", description="What the tape says: the cut length, or the base over all.")
    state: Literal["finished", "dry"] = Field(
        "finished", description="For the base: finished (cemented or screwed home) or dry (only pushed together)."
    )


class Plan(Section):
    """The whole plan."""

    name: str = Field("Bed cover", max_length=200, description="Name of this cover.")
    units: Units = Field("inch", description="How lengths are shown: inch or mm.")
    question: Question = Field(
        "cost", description="What you want to know first: will it fit the car, what does it cost, can it stay out."
    )
    people: Annotated[NonNegativeInt, Field(le=20)] = Field(1, description="How many people build and lift it.")
    bed: Bed
    cover: Cover = Cover()
    barn: Barn = Barn()
    lean_to: LeanTo = Field(LeanTo(), alias="lean-to")
    hoops: Hoops = Hoops()
    profile: Profile = Profile()
    pipe: PipeChoice = PipeChoice()
    joints: Joints = Joints()
    store: Store = Store()
    stock: Stock = Stock()
    car: Car | None = None
    film: Film = Film()
    lid: Lid = Lid()
    panel: Panel = Panel()
    hold_down: HoldDown = Field(HoldDown(), alias="hold-down")
    site: Site = Site()
    grow: Grow = Grow()
    prices: Prices = Prices()
    own: Own = Own()
    built: tuple[Built, ...] = Field((), description="What you have cut and measured so far.")

    @property
    def covers_count(self) -> int:
        """How many covers stand end to end: the sections, or two halves."""
        return 2 if self.lid.opens == "halves" else self.cover.sections

    @property
    def has_panels(self) -> bool:
        """Whether panels of the roof open, and the frame stays on the bed."""
        return self.lid.opens in PANELLED
