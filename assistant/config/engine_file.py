"""An engine's YAML file -> its figures in SI, with all problems of the file at once."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.alarms.pressure_rules import LEAST_SET_TOLERANCE_PA, SET_TOLERANCE
from assistant.boiler.atmosphere import standard_atmosphere_pa
from assistant.boiler.figures import (
    BRITISH,
    GUESSED,
    KINDS,
    SPECIFIC_HEAT_J_PER_KG_K,
    STANDARD_ATMOSPHERE_PA,
    WORDS,
    Engine,
    UsualRise,
)
from assistant.boiler.scales import PRESSURE_PA
from assistant.config import paths
from assistant.config.due_dates import Due, due_dates
from assistant.config.engine_glass import glass_of
from assistant.config.field_readers import (
    place_of,
    want_keys,
    want_quantity,
    want_table,
    want_text,
    want_texts,
    want_word,
    want_yes_no,
)
from assistant.config.positioned_yaml import Problems, Scalar, Table, parse, read_text
from assistant.config.suggest import closest, did_you_mean, in_quotes
from assistant.config.units import KNOWN, quantity
from assistant.grammar.names import objections
from assistant.procedure.checklist import OPTIONS

_REQUIRED = ("name", "working_pressure", "safety_valve", "boiler", "glass", "fire")
USUAL_S = (120.0, 2 * 86400.0)  # from lighting to a pressure: no sooner, no later. Judgement
_OPTIONAL = (
    "allowed_pressure", "tank", "pump", "injector", "gauge", "atmosphere", "altitude", "options",
    "water_interval", "due", "invented", "owner", "number", "nose_up", "people", "guessed", "kind",
    "words", "counts",
)  # fmt: skip


@dataclass(frozen=True)
class EngineFile:
    """An engine and the file it came from."""

    engine: Engine
    path: Path
    text: str
    """The file as read; a journal keeps it."""
    pressure_unit: str = "psi"
    """The unit of the dial: psi, bar, kPa or kgf/cm2."""
    due: tuple[Due, ...] = ()
    owner: str | None = None
    """For the report."""
    number: str | None = None
    """The boiler's number, for the report."""
    invented: bool = False
    """The file says that its figures belong to no real engine."""
    people: tuple[str, ...] = ()
    """The names of those who drive, watch or look at her."""

    @property
    def sha256(self) -> str:
        """The hash that identifies this file in a journal."""
        return hashlib.sha256(self.text.encode("utf-8")).hexdigest()


def find_engine(name_or_path: str | Path) -> EngineFile:
    """The engine of a file, or of the stem of a file that ships with the project.

    Raises FileWrongError with all problems, InputWrongError when there is no such engine.
    """
    return load_engine(paths.find(name_or_path, paths.engines_folder(), "engine"))


def load_engine(path: Path) -> EngineFile:
    """The engine of a file. Raises FileWrongError with all problems."""
    return engine_from_text(read_text(path), path)


def engine_from_text(text: str, path: Path) -> EngineFile:
    """The engine that a text describes (a file's, or one kept in a journal)."""
    problems = Problems(str(path))
    table = parse(text, problems)
    problems.stop_if_any()
    assert table is not None  # parse added a problem otherwise
    return engine_of(problems, table, text, path)


def engine_of(problems: Problems, table: Table, text: str, path: Path) -> EngineFile:
    """The engine of a table. Raises FileWrongError with all problems."""
    return _EngineReader(problems, table).read(text, path)


class _EngineReader:
    """One pass over the table; figures are returned only when no problem was found."""

    def __init__(self, problems: Problems, table: Table) -> None:
        self.problems = problems
        self.table = table
        self.atmosphere_pa = STANDARD_ATMOSPHERE_PA

    def read(self, text: str, path: Path) -> EngineFile:
        problems, table = self.problems, self.table
        want_keys(problems, table, _REQUIRED, _OPTIONAL)
        self.atmosphere_pa = self._atmosphere()
        name = want_text(problems, table, "name", 80)
        pressures = self._pressures()
        boiler = self._boiler()
        fire = self._section("fire", ("wood_until",), ("rate", "rise_limit", "usually"))
        glass = glass_of(problems, want_table(problems, table, "glass"), boiler["volume"])
        counts = self._section("counts", (), ("bucket", "shovel", "water_bucket"))
        figures: dict[str, Any] = dict(
            name=name,
            volume_m3=boiler["volume"],
            metal_kg=boiler["metal"],
            barrel_diameter_m=boiler["diameter"],
            barrel_length_m=boiler["length"],
            glass=glass,
            fire_rate_w=self._si(fire, "rate", "power", "50 W", "10000 kW"),
            rise_limit_pa_per_s=self._si(
                fire, "rise_limit", "rise", "0.1 psi/min", "100 psi/min"
            ),
            tank_m3=self._si(
                self._section("tank", ("volume",)), "volume", "volume", "0.1 litre", "50000 litre"
            ),
            pump_m3_per_s=self._si(
                self._section("pump", ("delivers",)), "delivers", "flow",
                "0.001 litre/min", "2000 litre/min",
            ),
            atmosphere_pa=self.atmosphere_pa,
            options=self._options(),
            nose_up_rad=self._si(table, "nose_up", "angle", "-15 degree", "15 degree") or 0.0,
            water_interval_s=self._si(table, "water_interval", "time", "30 s", "60 min") or 300.0,
            usual=self._usual(fire, pressures["valve_lifts_gauge_pa"]),
            guessed=self._guessed(),
            bucket_kg=self._si(counts, "bucket", "mass", "0.05 kg", "100 kg"),
            shovel_kg=self._si(counts, "shovel", "mass", "0.01 kg", "30 kg"),
            water_bucket_m3=self._si(counts, "water_bucket", "volume", "0.1 litre", "100 litre"),
            kind=want_word(problems, table, "kind", KINDS) or "traction",
            words=want_word(problems, table, "words", WORDS) or BRITISH,
            **pressures,
        )  # fmt: skip
        unit = self._unit()
        due = due_dates(problems, want_table(problems, table, "due"))
        owner, number = (want_text(problems, table, key, 120) for key in ("owner", "number"))
        invented = want_yes_no(problems, table, "invented") or False
        people = self._people()
        problems.stop_if_any()
        return EngineFile(Engine(**figures), path, text, unit, due, owner, number, invented, people)

    def _section(
        self, key: str, required: tuple[str, ...], optional: tuple[str, ...] = ()
    ) -> Table | None:
        section = want_table(self.problems, self.table, key)
        if section is not None:
            want_keys(self.problems, section, required, optional, f"'{key}'")
        return section

    def _si(
        self, table: Table | None, key: str, dimension: str, least: str, most: str
    ) -> float | None:
        if table is None:
            return None
        wanted = want_quantity(self.problems, table, key, dimension, least, most)
        return None if wanted is None else wanted.si

    def _atmosphere(self) -> float:
        """Pressure of the air around [Pa]: as given, or the standard atmosphere at the altitude."""
        if "atmosphere" in self.table.entries and "altitude" in self.table.entries:
            self.problems.add(
                self.table.entries["altitude"][0], "give 'atmosphere' or 'altitude', not both"
            )
        given = self._si(self.table, "atmosphere", "pressure", "50 kPa", "110 kPa")
        altitude = self._si(self.table, "altitude", "length", "-400 m", "5000 m")
        if altitude is not None:
            return standard_atmosphere_pa(altitude)
        return STANDARD_ATMOSPHERE_PA if given is None else given

    def _gauge(self, table: Table | None, key: str) -> float | None:
        """A pressure [Pa gauge]; the atmosphere is subtracted from one marked `abs`."""
        if table is None:
            return None
        wanted = want_quantity(self.problems, table, key, "pressure", "0 psi", "600 psi")
        if wanted is None:
            return None
        gauge_pa = wanted.si - (self.atmosphere_pa if wanted.absolute else 0.0)
        if gauge_pa < 1000.0:
            self.problems.add(
                table.entries[key][1], f"'{key}': that is no pressure above the air's"
            )
            return None
        return gauge_pa

    def _pressures(self) -> dict[str, float | None]:
        valve = self._section("safety_valve", ("lifts",), ("feathers",))
        gauge = self._section("gauge", (), ("top", "unit"))
        fire = self._fire_table()
        working = self._gauge(self.table, "working_pressure")
        allowed = self._gauge(self.table, "allowed_pressure")
        lifts, feathers = self._gauge(valve, "lifts"), self._gauge(valve, "feathers")
        injector = self._section("injector", ("from",))
        starts = self._gauge(injector, "from")
        wood, top = self._gauge(fire, "wood_until"), self._gauge(gauge, "top")
        self._not_above(
            self.table,
            "working_pressure",
            working,
            "the allowed pressure",
            allowed,
            "give the highest that is wanted in use",
        )
        self._not_above(
            valve,
            "feathers",
            feathers,
            "what the valve lifts at",
            lifts,
            "leave 'feathers' out for a valve that never does",
        )
        if valve is not None and lifts is not None and working is not None and lifts < working:
            self.problems.add(
                valve.entries["lifts"][1],
                f"'lifts': {_psi_and_bar(lifts)} is below the wanted pressure"
                f" ({_psi_and_bar(working)}): she blows before she is there; give what the valve"
                " is set at, or a lower 'working_pressure'",
            )
        self._valve_within(valve, lifts, allowed)
        self._not_above(
            fire,
            "wood_until",
            wood,
            "the wanted pressure",
            working,
            "give where coal takes over, on the way up",
        )
        self._injector_within(injector, starts, working)
        if gauge is not None and top is not None and lifts is not None and top < lifts:
            self.problems.add(
                gauge.entries["top"][1],
                "'top': the dial ends below what the valve lifts at",
            )
        return {
            "working_pressure_gauge_pa": working,
            "allowed_pressure_gauge_pa": allowed,
            "valve_lifts_gauge_pa": lifts,
            "valve_feathers_gauge_pa": feathers,
            "wood_until_gauge_pa": wood,
            "gauge_top_pa": top,
            "injector_from_gauge_pa": starts,
        }

    def _injector_within(
        self, injector: Table | None, starts: float | None, working: float | None
    ) -> None:
        """An injector that starts nowhere below the working pressure cannot be tried on the way."""
        if injector is None or starts is None or working is None or starts < working:
            return
        self.problems.add(
            injector.entries["from"][1],
            f"'from': {_psi_and_bar(starts)} is not below the wanted pressure"
            f" ({_psi_and_bar(working)}): give the lowest at which the injector starts",
        )

    def _fire_table(self) -> Table | None:
        """The section of the fire, unchecked: `read` reports what is wrong with it."""
        fire = self.table.get("fire")
        return fire if isinstance(fire, Table) else None

    def _usual(self, fire: Table | None, lifts_pa: float | None) -> UsualRise | None:
        """How long she usually takes: "45 min to 100 psi"."""
        text = want_text(self.problems, fire, "usually", 60) if fire is not None else None
        if fire is None or text is None:
            return None
        span, to, pressure = text.partition(" to ")
        try:
            seconds = quantity(span, "time").si
            wanted = quantity(pressure, "pressure")
        except ValueError as wrong:
            self._wrong_usual(fire, str(wrong) if to else f"{in_quotes(text)} says no pressure")
            return None
        gauge_pa = wanted.si - (self.atmosphere_pa if wanted.absolute else 0.0)
        if not USUAL_S[0] <= seconds <= USUAL_S[1]:
            self._wrong_usual(fire, f"{in_quotes(span)} is no time from cold to steam")
        elif gauge_pa < 1000.0 or (lifts_pa is not None and gauge_pa > lifts_pa):
            self._wrong_usual(fire, f"{in_quotes(pressure)} is no pressure she comes to")
        else:
            return UsualRise(seconds, gauge_pa)
        return None

    def _wrong_usual(self, fire: Table, why: str) -> None:
        self.problems.add(
            fire.entries["usually"][1], f"'usually': {why} (for example: 45 min to 100 psi)"
        )

    def _guessed(self) -> frozenset[str]:
        """Figures that the owner does not know."""
        guessed = want_texts(self.problems, self.table, "guessed", 40)
        for figure in guessed:
            if figure not in GUESSED:
                node = place_of(self.table, "guessed", figure)
                known = ", ".join(GUESSED)
                self.problems.add(node, f"'guessed': {in_quotes(figure)} is none of {known}")
        return frozenset(guessed)

    def _valve_within(
        self, valve: Table | None, lifts: float | None, allowed: float | None
    ) -> None:
        """A valve lifts at the allowed pressure at the latest, within its setting tolerance."""
        if valve is None or lifts is None or allowed is None:
            return
        tolerance_pa = max((SET_TOLERANCE - 1.0) * allowed, LEAST_SET_TOLERANCE_PA)
        if lifts > allowed + tolerance_pa * (1.0 + 1e-6):
            self.problems.add(
                valve.entries["lifts"][1],
                f"'lifts': {_psi_and_bar(lifts)} is above the allowed pressure"
                f" ({_psi_and_bar(allowed)}) by more than a valve's setting tolerance"
                " (3 percent, 2 psi at least: ASME I); read both again, and do not steam her"
                " before the valve is set right",
            )

    def _not_above(
        self,
        table: Table | None,
        key: str,
        lower: float | None,
        name: str,
        upper: float | None,
        remedy: str,
    ) -> None:
        if table is not None and lower is not None and upper is not None and lower > upper:
            self.problems.add(
                table.entries[key][1],
                f"'{key}': {_psi_and_bar(lower)} is above {name} ({_psi_and_bar(upper)}): {remedy}",
            )

    def _boiler(self) -> dict[str, Any]:
        boiler = self._section("boiler", ("volume", "metal"), ("barrel",))
        barrel = want_table(self.problems, boiler, "barrel") if boiler else None
        if barrel is not None:
            want_keys(self.problems, barrel, ("diameter", "length"), (), "'barrel'")
        return {
            "volume": self._si(boiler, "volume", "volume", "0.2 litre", "50000 litre"),
            "metal": self._metal(want_table(self.problems, boiler, "metal") if boiler else None),
            "diameter": self._si(barrel, "diameter", "length", "30 mm", "4 m"),
            "length": self._si(barrel, "length", "length", "50 mm", "12 m"),
        }

    def _metal(self, metal: Table | None) -> dict[str, float]:
        masses: dict[str, float] = {}
        if metal is None:
            return masses
        self.problems.asked_keys(metal, (), SPECIFIC_HEAT_J_PER_KG_K)
        if not metal.entries:
            self.problems.add(metal, "'metal': name at least one metal and its mass")
        for name, (key, _) in metal.entries.items():
            mass = self._si(metal, name, "mass", "0.05 kg", "100000 kg")
            if name not in SPECIFIC_HEAT_J_PER_KG_K:
                near = did_you_mean(name, SPECIFIC_HEAT_J_PER_KG_K)
                self.problems.add(key, f"unknown metal {in_quotes(name)}{near}")
            elif mass is not None:
                masses[name] = mass
        return masses

    def _options(self) -> frozenset[str]:
        options = want_texts(self.problems, self.table, "options", 40)
        for option in options:
            near = closest(option, sorted(OPTIONS))
            if option not in OPTIONS and near is not None:
                node = place_of(self.table, "options", option)
                self.problems.add(
                    node, f"'options': unknown {in_quotes(option)} (did you mean '{near}'?)"
                )
        return frozenset(options)

    def _people(self) -> tuple[str, ...]:
        """Names that can be spoken and told apart."""
        people = want_texts(self.problems, self.table, "people", 40)
        for name, why in objections(people):
            node = place_of(self.table, "people", name)
            self.problems.add(node, f"'people': {in_quotes(name)}: {why}")
        return people

    def _unit(self) -> str:
        """The unit of the dial: as given, or the one the working pressure is written in."""
        gauge = self.table.get("gauge")
        if isinstance(gauge, Table) and "unit" in gauge.entries:
            return want_word(self.problems, gauge, "unit", PRESSURE_PA) or "psi"
        scalar = self.table.get("working_pressure")
        words = scalar.text.split() if isinstance(scalar, Scalar) else []
        marked = {KNOWN["pressure"].get(word) for word in words} - {None}
        return next((unit for unit, scale in PRESSURE_PA.items() if scale in marked), "psi")


def _psi_and_bar(pascal: float) -> str:
    """A gauge pressure in the two units most dials are in.

    >>> _psi_and_bar(827370.875)
    '120 psi, 8.27 bar'
    """
    return f"{pascal / PRESSURE_PA['psi']:.4g} psi, {pascal / 1e5:.3g} bar"
