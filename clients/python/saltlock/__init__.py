# Code generated from openapi.yaml by clients/internal/generate. DO NOT EDIT.
"""Ask Saltlock: how much marine salt, SG to ppt, a drip plan, what a species takes.

    import saltlock

    service = saltlock.Client("http://localhost:8080")
    mix = service.get_salt_mix(target="1.010 SG", volume="120 gal")
    print(mix["summary"])
    print(mix["salt"]["value"], mix["salt"]["unit"])

From a shell:

    saltlock mixes/salt target="1.010 SG" volume="120 gal"

Python 3.11 or later, standard library alone. Quantities go in as text with their
unit and come back as a value in the unit that the contract names.
"""

from __future__ import annotations

import difflib
import email.utils
import http.client
import itertools
import json
import os
import random
import re
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid
from typing import Any, Callable, Literal, NamedTuple, NotRequired, Optional, TypeAlias, TypedDict, Union

VERSION = "0.3.0"
"""Version of the contract that this module was made from."""

DEFAULT_SERVER = "http://localhost:8080"


# Absolute salinity, g/kg.
AbsoluteSalinity: TypeAlias = 'Quantity'

# Total alkalinity, meq/L.
Alkalinity: TypeAlias = 'Quantity'

# A total alkalinity: dKH, meq/L, mg/L CaCO3.
AlkalinityText: TypeAlias = 'str'

class Alternative(TypedDict):
    """A drip that takes less of one thing, and what it costs in the others."""

    # Always false: the plan that was chosen is not among its alternatives.
    chosen: bool
    # Length of time, h.
    duration: Duration
    pour_offs: int
    # What it takes less of than the plan.
    prefer: Preference
    settings: int
    # To start, set the valve, pour off, refill the jug, close the valve and release.
    visits: int
    # Drawn from the source.
    water: Volume
    # How it differs from the plan, each in a sentence of its own.
    differences: NotRequired[Notes]
    # When the animals can be released, as the release of the plan says it. Plans of earlier
    # releases do not say.
    release: NotRequired[Duration]


# Ammonia as nitrogen, mg/L N.
Ammonia: TypeAlias = 'Quantity'

# An ammonia, with its basis: mg/L N, mg/L NH3, mg/L NH4.
AmmoniaText: TypeAlias = 'str'

# An area: cm2, m2.
AreaText: TypeAlias = 'str'

# How the animals are. All but ok stop the plan: signs of distress, of which not feeding is one
# 24 h after the release, and a moult, which rests for one to two days.
Behaviour: TypeAlias = 'Literal["ok", "loss_of_balance", "gasping", "heavy_mucus", "not_feeding", "moult"]'

class BlendAnswer(TypedDict):
    """What several waters give together."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # What was taken where nothing was given.
    assumptions: Notes
    # What can hurt someone or an animal.
    cautions: Notes
    # Density, kg/m³.
    density: Density
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Mass, kg.
    mass: Mass
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # At the temperature of the blend.
    volume: Volume
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # In the order of the request.
    waters: list[BlendWater]
    # Where that of every water is given.
    alkalinity: NotRequired[Alkalinity]
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # Estimate for a closed vessel, where alkalinity and pH of every water are given.
    ph: NotRequired[PH]
    # Estimate once the blend has come to rest with the air.
    ph_in_air: NotRequired[PH]


class BlendWater(TypedDict):
    """One water of a blend."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # Of the mass of the blend.
    share: Fraction
    # Its volume was left out and found here.
    solved: bool
    # At its own temperature.
    volume: Volume


class BoundPH(TypedDict):
    """A bound and who sets it."""

    set_by: list[SpeciesRef]
    # pH on the NBS buffers, pH.
    value: PH
    # How much wider that is.
    by: NotRequired[PH]
    # What the bound would be without them.
    without: NotRequired[PH]


class BoundPractical(TypedDict):
    """A bound and who sets it."""

    set_by: list[SpeciesRef]
    # Practical salinity (PSS-78), ppt.
    value: PracticalSalinity
    # How much wider that is.
    by: NotRequired[PracticalSalinity]
    # What the bound would be without them.
    without: NotRequired[PracticalSalinity]


class BoundSalinity(TypedDict):
    """A bound and who sets it."""

    set_by: list[SpeciesRef]
    # Absolute salinity, g/kg.
    value: AbsoluteSalinity
    # How much wider that is.
    by: NotRequired[AbsoluteSalinity]
    # What the bound would be without them.
    without: NotRequired[AbsoluteSalinity]


class BoundTemperature(TypedDict):
    """A bound and who sets it."""

    set_by: list[SpeciesRef]
    # Temperature (ITS-90), °C.
    value: Temperature
    # How much wider that is.
    by: NotRequired[Quantity]
    # What the bound would be without them.
    without: NotRequired[Temperature]


# An hourly limit that was passed between two readings.
BrokenLimit = TypedDict("BrokenLimit", {
    # Length of time, h.
    "from": "Duration",
    # From `until` on, without other change.
    "hold": "Duration",
    # Change of absolute salinity in time, g/kg/h.
    "limit": "SalinityRate",
    # Something to tell a person; programs read the code.
    "note": "Note",
    # Change of absolute salinity in time, g/kg/h.
    "rate": "SalinityRate",
    # Length of time, h.
    "until": "Duration",
})

class CalibrationAnswer(TypedDict):
    """What a known standard tells about an instrument."""

    # Of the water.
    absolute_salinity: AbsoluteSalinity
    assumptions: Notes
    # Correction of an instrument: a factor such as 1.02(1), or with a unit what is to be
    # added, such as -0.0012(5) SG.
    correction: CorrectionText
    # What it should have shown.
    expected: ReadingValue
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines, in both unit families.
    summary: Summary
    warnings: Notes
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # The salinity shown less that of the water.
    error: NotRequired[AbsoluteSalinity]


class Change(TypedDict):
    """A field of the request and the value to give it."""

    # As a query takes it. In a body a count, true and false stand without quotes, and an empty
    # text takes the field out.
    value: str
    # Name of the query parameter, or JSON pointer into the body.
    where: str


class ChangeStep(TypedDict):
    """One water change."""

    # Of the tank after it.
    absolute_salinity: AbsoluteSalinity
    # One salinity on both scales.
    new_water_salinity: SalinityPair
    # Of the tank after it.
    practical_salinity: PracticalSalinity
    # Volume, L.
    put_in: Volume
    # Volume, L.
    take_out: Volume


class ChangeSurvived(TypedDict):
    """The largest change of salinity that a laboratory saw tolerated."""

    basis: str
    # Absolute salinity, g/kg.
    change: AbsoluteSalinity
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class Charge(TypedDict):
    """One filling of the jug that the drip runs from."""

    # Of the salinity, if all of it runs in at once.
    change: AbsoluteSalinity
    # When the jug is filled with it; then it is empty.
    time: Duration
    # Volume, L.
    volume: Volume


class CheaperRamp(TypedDict):
    """A ramp that takes longer and less of all else."""

    # Number of water changes.
    changes: int
    # From the first day to the last change.
    days: int
    # Its water changes.
    phases: list[Phase]
    # Anhydrous, in all.
    salt: Mass
    # New water in all.
    water: Volume


class Checkpoint(TypedDict):
    """When to look, and what should be seen."""

    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # Length of time, h.
    time: Duration
    # Something to tell a person; programs read the code.
    why: Note
    # Length, cm.
    level: NotRequired[Length]
    # In the instrument of the keeper, at that temperature.
    reading: NotRequired[ReadingValue]
    # Volume, L.
    volume: NotRequired[Volume]


# Chlorinity, g/kg Cl.
Chlorinity: TypeAlias = 'Quantity'

class ClassLimits(TypedDict):
    """Default limits of the sensitivity class for an animal of unknown origin; proposed here, not found by anybody."""

    # Towards fresh water.
    down: DirectionLimits
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: Mark
    # Limits of changing the tank around the animal.
    ramp: RampLimits
    # Towards salt.
    up: DirectionLimits


# A time of day from 00:00 to 23:59.
ClockText: TypeAlias = 'str'

class CommonPH(TypedDict):
    """A common band and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Widest gap first.
    conflicts: NotRequired[list[ConflictPH]]
    # A bound and who sets it.
    lower: NotRequired[BoundPH]
    # Whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound and who sets it.
    upper: NotRequired[BoundPH]


class CommonPractical(TypedDict):
    """A common band and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Widest gap first.
    conflicts: NotRequired[list[ConflictPractical]]
    # A bound and who sets it.
    lower: NotRequired[BoundPractical]
    # Whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound and who sets it.
    upper: NotRequired[BoundPractical]


class CommonSalinity(TypedDict):
    """A common band and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Widest gap first.
    conflicts: NotRequired[list[ConflictSalinity]]
    # A bound and who sets it.
    lower: NotRequired[BoundSalinity]
    # Whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound and who sets it.
    upper: NotRequired[BoundSalinity]


class CommonTemperature(TypedDict):
    """A common band and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Widest gap first.
    conflicts: NotRequired[list[ConflictTemperature]]
    # A bound and who sets it.
    lower: NotRequired[BoundTemperature]
    # Whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound and who sets it.
    upper: NotRequired[BoundTemperature]


class CompatibilityAnswer(TypedDict):
    """The water several species share."""

    # Of this company; those of each species stand with it.
    cautions: Notes
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    members: list[CompatibilityMember]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    notes: Notes
    # Where sources found or keep all; no other band is known.
    ph: CommonPH
    # The band all prefer.
    preferred_range: CommonPractical
    # preferred_range as g/kg, with the same numbers.
    preferred_salinity: CommonSalinity
    # usable_range as g/kg, with the same numbers.
    salinity: CommonSalinity
    # Whether some water suits everybody.
    status: SharedStatus
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # The band all are known to survive; no water to keep them in.
    survived_range: CommonPractical
    # survived_range as g/kg, with the same numbers.
    survived_salinity: CommonSalinity
    # Where sources found or keep all; no other band is known.
    temperature: CommonTemperature
    # What temper, predation and numbers mean for the company, which decides before the water
    # does. Common practice; what is not known is not told, which is no all-clear.
    together: Together
    # The band all may be planned for.
    usable_range: CommonPractical
    # Any one of these would have to go for the rest to share a water.
    leave_out: NotRequired[list[Leaving]]
    # Any one of these would have to go for the rest to share a salinity all prefer.
    leave_out_preferred: NotRequired[list[Leaving]]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]
    # Of the given water: the worst of all.
    verdict: NotRequired[Verdict]


class CompatibilityMember(TypedDict):
    """What the comparison found for one member."""

    # Of the species, in any company.
    cautions: Notes
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    confidence: Mark
    id: str
    name: str
    scientific_name: str
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # How many; absent if not said.
    count: NotRequired[int]
    # Of the given water.
    judgement: NotRequired[Judgement]
    # An entry of the operator of this service.
    local: NotRequired[bool]
    # Largest length on record.
    max_length: NotRequired[GreatestLength]
    # Known bounds of pH with their source.
    ph: NotRequired[SourcedPHBand]
    # Known bounds of salinity on the practical scale, with their source. A bound admits half
    # of its last digit.
    preferred_range: NotRequired[SourcedPracticalBand]
    # preferred_range as g/kg, with the same numbers.
    preferred_salinity: NotRequired[SourcedSalinityBand]
    # survived_range as g/kg, with the same numbers.
    salinity: NotRequired[SourcedSalinityBand]
    # What it was seen or is said to survive; not where to keep it.
    survived_range: NotRequired[SourcedPracticalBand]
    # Known bounds of temperature with their source.
    temperature: NotRequired[SourcedTemperatureBand]


# What a meter does about temperature: none, nlf (ISO 7888), or a coefficient such as 1.91 %/C;
# with at 20C behind it where the display is for 20 °C.
CompensationText: TypeAlias = 'str'

Condition: TypeAlias = 'Literal["well", "thin", "sick", "medicated", "just_shipped", "moulting"]'

# Electrical conductivity, mS/cm.
Conductivity: TypeAlias = 'Quantity'

class ConflictPH(TypedDict):
    """Two that no water suits."""

    # pH on the NBS buffers, pH.
    at_least: PH
    # pH on the NBS buffers, pH.
    at_most: PH
    # pH on the NBS buffers, pH.
    gap: PH
    # Needs more.
    higher: SpeciesRef
    # Takes less.
    lower: SpeciesRef
    # False where one of the bounds is only a preference.
    proven: bool


class ConflictPractical(TypedDict):
    """Two that no water suits."""

    # Practical salinity (PSS-78), ppt.
    at_least: PracticalSalinity
    # Practical salinity (PSS-78), ppt.
    at_most: PracticalSalinity
    # Practical salinity (PSS-78), ppt.
    gap: PracticalSalinity
    # Needs more.
    higher: SpeciesRef
    # Takes less.
    lower: SpeciesRef
    # False where one of the bounds is only a preference.
    proven: bool


class ConflictSalinity(TypedDict):
    """Two that no water suits."""

    # Absolute salinity, g/kg.
    at_least: AbsoluteSalinity
    # Absolute salinity, g/kg.
    at_most: AbsoluteSalinity
    # Absolute salinity, g/kg.
    gap: AbsoluteSalinity
    # Needs more.
    higher: SpeciesRef
    # Takes less.
    lower: SpeciesRef
    # False where one of the bounds is only a preference.
    proven: bool


class ConflictTemperature(TypedDict):
    """Two that no water suits."""

    # Temperature (ITS-90), °C.
    at_least: Temperature
    # Temperature (ITS-90), °C.
    at_most: Temperature
    # A value in a fixed unit, with its standard uncertainty (k = 1) where known.
    gap: Quantity
    # Needs more.
    higher: SpeciesRef
    # Takes less.
    lower: SpeciesRef
    # False where one of the bounds is only a preference.
    proven: bool


class Conservation(TypedDict):
    """How the species was listed in a year; the law of the place and the day counts."""

    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: Mark
    year: int
    cites: NotRequired[str]
    iucn: NotRequired[str]
    # Where a value was found.
    source: NotRequired[Source]


class ConventionGravity(TypedDict):
    """Specific gravity on one pair of temperatures."""

    convention: str
    # Specific gravity, SG.
    value: SpecificGravity


# The two temperatures of a specific gravity, sample over pure water.
ConventionText: TypeAlias = 'str'

class Conversion(TypedDict):
    """One water on every measure. A measure out of its range is left out."""

    # What was taken where nothing was given.
    assumptions: Notes
    # What was corrected, and by how much.
    corrections: Notes
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    # On each pair of temperatures in use.
    specific_gravity: list[ConventionGravity]
    # Of the sample.
    temperature: Temperature
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # Zone of the Venice system (1958).
    zone: Zone
    # Absolute salinity, g/kg.
    absolute_salinity: NotRequired[AbsoluteSalinity]
    # Chlorinity, g/kg Cl.
    chlorinity: NotRequired[Chlorinity]
    # At the temperature of the sample.
    conductivity: NotRequired[Conductivity]
    # Of the same water at 25 °C.
    conductivity_25: NotRequired[Conductivity]
    # Density, kg/m³.
    density: NotRequired[Density]
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # Temperature (ITS-90), °C.
    freezing_point: NotRequired[Temperature]
    # Every water that such a reading can mean; the first is the one it was taken for. Left out
    # where `only` asks for one field.
    interpretations: NotRequired[list[Interpretation]]
    # Osmolality, mOsm/kg.
    osmolality: NotRequired[Osmolality]
    # In balance with moist air at one atmosphere.
    oxygen_saturation: NotRequired[DissolvedOxygen]
    # Practical salinity (PSS-78), ppt.
    practical_salinity: NotRequired[PracticalSalinity]
    # What the reading was taken for, where it can mean more than one water: all measures, a
    # table and `only` go by it.
    read_as: NotRequired[ReadAs]
    # Refractive index at 589.3 nm relative to air, nD.
    refractive_index: NotRequired[RefractiveIndex]
    # Sea salt per litre of water at the stated temperature, g/L.
    salt_per_litre: NotRequired[SaltPerLitre]


class ConversionAnswer(TypedDict):
    """One water on every measure. A measure out of its range is left out."""

    # What was taken where nothing was given.
    assumptions: Notes
    # What was corrected, and by how much.
    corrections: Notes
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # On each pair of temperatures in use.
    specific_gravity: list[ConventionGravity]
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # Of the sample.
    temperature: Temperature
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # Zone of the Venice system (1958).
    zone: Zone
    # Absolute salinity, g/kg.
    absolute_salinity: NotRequired[AbsoluteSalinity]
    # Chlorinity, g/kg Cl.
    chlorinity: NotRequired[Chlorinity]
    # At the temperature of the sample.
    conductivity: NotRequired[Conductivity]
    # Of the same water at 25 °C.
    conductivity_25: NotRequired[Conductivity]
    # Density, kg/m³.
    density: NotRequired[Density]
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # Temperature (ITS-90), °C.
    freezing_point: NotRequired[Temperature]
    # Every water that such a reading can mean; the first is the one it was taken for. Left out
    # where `only` asks for one field.
    interpretations: NotRequired[list[Interpretation]]
    # Osmolality, mOsm/kg.
    osmolality: NotRequired[Osmolality]
    # In balance with moist air at one atmosphere.
    oxygen_saturation: NotRequired[DissolvedOxygen]
    # Practical salinity (PSS-78), ppt.
    practical_salinity: NotRequired[PracticalSalinity]
    # What the reading was taken for, where it can mean more than one water: all measures, a
    # table and `only` go by it.
    read_as: NotRequired[ReadAs]
    # Refractive index at 589.3 nm relative to air, nD.
    refractive_index: NotRequired[RefractiveIndex]
    # Sea salt per litre of water at the stated temperature, g/L.
    salt_per_litre: NotRequired[SaltPerLitre]
    # What this water means for the species asked about.
    suits: NotRequired[SpeciesJudgement]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]


class ConversionItem(TypedDict):
    """One reading and how it was taken."""

    # A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
    reading: ReadingText
    # The two temperatures of a specific gravity, sample over pure water.
    calibration: NotRequired[ConventionText]
    # What a meter does about temperature: none, nlf (ISO 7888), or a coefficient such as 1.91
    # %/C; with at 20C behind it where the display is for 20 °C.
    compensation: NotRequired[CompensationText]
    # Correction of an instrument: a factor such as 1.02(1), or with a unit what is to be
    # added, such as -0.0012(5) SG.
    correction: NotRequired[CorrectionText]
    # A glass hydrometer, a plastic box with a swinging pointer, a refractometer, a
    # conductivity meter, or one that shows dissolved solids by a factor.
    instrument: NotRequired[InstrumentKind]
    # What the marks of a refractometer were drawn for.
    scale: NotRequired[RefractometerScale]
    tds_factor: NotRequired[float]
    # A temperature, C or F.
    temperature: NotRequired[TemperatureText]
    temperature_compensated: NotRequired[bool]
    # A temperature, C or F.
    zero_temperature: NotRequired[TemperatureText]


class ConversionOutcome(TypedDict):
    """A conversion, or what is wrong with its reading."""

    # One water on every measure. A measure out of its range is left out.
    conversion: NotRequired[Conversion]
    errors: NotRequired[list[Fault]]


class ConversionsAnswer(TypedDict):
    """Many conversions."""

    # Readings with errors.
    bad: int
    # Readings converted.
    good: int
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # In the order of the readings. A list has up to 10 000, a table any number.
    items: list[ConversionOutcome]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines, in both unit families.
    summary: Summary


# Correction of an instrument: a factor such as 1.02(1), or with a unit what is to be added,
# such as -0.0012(5) SG.
CorrectionText: TypeAlias = 'str'

class Course(TypedDict):
    """What the log tells."""

    assumptions: Notes
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    # What to do.
    now: Note
    # Every number of the log, and what it should have been.
    readings: list[JudgedReading]
    # paused: the clamp is closed until something is read. ended: finished.
    verdict: Literal["not_begun", "on_course", "corrected", "arrived", "stopped", "no_way_on", "paused", "ended"]
    warnings: Notes
    # Where the salinity changed faster than the hourly limit between two readings, the latest
    # first.
    broken: NotRequired[list[BrokenLimit]]
    # That really ran; as told where nobody counted.
    drip: NotRequired[DripRate]
    # Flow that really ran over that planned. Left out, as are flow and drip, while the clamp
    # is closed or water that came in at once hides it.
    drip_ratio: NotRequired[Fraction]
    # As the readings have it.
    drop_volume: NotRequired[Volume]
    # That really ran.
    flow: NotRequired[Flow]
    # What the readings show to have happened, though nobody reported it, each once two
    # readings show it.
    found: NotRequired[list[FoundChange]]
    # To the new water.
    gap: NotRequired[AbsoluteSalinity]
    # Length, cm.
    level: NotRequired[Length]
    # Drops in time, drops/s.
    planned_drip: NotRequired[DripRate]
    # Volume flow, mL/min.
    planned_flow: NotRequired[Flow]
    # In the container then.
    practical_salinity: NotRequired[PracticalSalinity]
    # Half a step towards the water the animals came from: half of what a step may be, in the
    # stricter direction.
    step_back: NotRequired[StepBack]
    # What to do after it, in this order.
    then: NotRequired[Notes]
    # Of the latest entry, from the first drop.
    time: NotRequired[Duration]
    # Volume, L.
    volume: NotRequired[Volume]
    # How to go on after a stop.
    way_on: NotRequired[WayOn]
    # Why that is to be done, the most important first.
    why: NotRequired[Notes]


class CurvePoint(TypedDict):
    """The water at one time."""

    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # Length of time, h.
    time: Duration
    # Volume, L.
    volume: Volume
    # Un-ionized ammonia, at the likely use.
    nh3: NotRequired[Ammonia]
    # At the likely use, where life support is planned.
    oxygen: NotRequired[DissolvedOxygen]
    # Total ammonia, at the likely use.
    tan: NotRequired[Ammonia]


# Density, kg/m³.
Density: TypeAlias = 'Quantity'

# A density.
DensityText: TypeAlias = 'str'

class DirectionLimits(TypedDict):
    """Limits of moving the animal."""

    # Absolute salinity, g/kg.
    at_once: AbsoluteSalinity
    # Absolute salinity, g/kg.
    per_24_hours: AbsoluteSalinity
    # A value in a fixed unit, with its standard uncertainty (k = 1) where known.
    per_hour: Quantity


# Dissolved oxygen, mg/L.
DissolvedOxygen: TypeAlias = 'Quantity'

class Dominant(TypedDict):
    """The input that brings most of the uncertainty."""

    input: str
    # Of the variance.
    share: float


class Draw(TypedDict):
    """What the drip takes from the source, and what replaces it."""

    # Volume, L.
    pure_water: Volume
    # Anhydrous, into the pure water.
    replacement_salt: Mass
    # Volume, L.
    volume: Volume
    # What to fill the jug with and when, where the drip runs from one. Each holds so little
    # that all of it at once changes the salinity by no more than one step may.
    charges: NotRequired[list[Charge]]
    # How the drip changes over each phase of it while nobody touches the valve, where the head
    # and the level of source or container are known.
    drifts: NotRequired[list[Drift]]
    # What a valve that sticks open does, at the worst moment of the plan. The flow stays as it
    # is at the start, so the times come early.
    failure: NotRequired[Failure]
    # What the drip runs from. `jug`: a jug that you fill with one charge at a time, so that a
    # stuck valve can do little. `tank`: a hose that hangs in the tank. If not given, `tank`
    # where `source_tank.surface`, `line.head` or `line.intake_depth` describes such a hose,
    # else `jug`.
    feed: NotRequired[Feed]
    # Where the end of the hose hangs in the source in each run of the drip, so that a failed
    # valve cannot flood the floor; where the surface of the source is known.
    intakes: NotRequired[list[Intake]]
    # Of the source tank, if nothing replaces it.
    level_drop: NotRequired[Length]
    # What a failed valve lets through, where the hose is described.
    open_line: NotRequired[OpenLine]
    # That runs over, where the container has an overflow.
    waste: NotRequired[Volume]


class Drift(TypedDict):
    """How a drip changes over one phase. A clamp in which water creeps passes in proportion to the head, a sharp orifice with its square root; a valve lies between. Shares are of the drip that was set when the valve was last touched."""

    # The most there may be at the start; 1 where the valve is set then.
    at_start: Fraction
    # Share of a whole, 1.
    greatest_at_end: Fraction
    # At the start of the phase.
    head: Length
    # Length, cm.
    head_at_end: Length
    # Share of a whole, 1.
    least_at_end: Fraction
    # Of the start of the phase.
    time: Duration


# Drops in time, drops/s.
DripRate: TypeAlias = 'Quantity'

# Drops in time.
DripRateText: TypeAlias = 'str'

# Length of time, h.
Duration: TypeAlias = 'Quantity'

# A length of time: h, min, days.
DurationText: TypeAlias = 'str'

class Facet(TypedDict):
    """A value and how many have it."""

    count: int
    value: str


class Failure(TypedDict):
    """What a valve that sticks open does, at the worst moment of the plan. The flow stays as it is at the start, so the times come early."""

    # Through the open line; of the hose described, else of one assumed.
    flow: Flow
    # Of the salinity, at once.
    rate: SalinityRate
    # At the end, when the jug is empty, the siphon breaks or the tank is empty.
    salinity: PracticalSalinity
    # Of water that runs over the rim. Left out where the volume of the tank is not given.
    floor: NotRequired[Volume]
    # Until the salinity has changed by as much as one step may; left out where it does not
    # come to that.
    time_to_at_once: NotRequired[Duration]


class Fault(TypedDict):
    """Fault."""

    # What was given, what is allowed, what to do.
    reason: str
    # Short name of the rule that was broken, for programs.
    rule: str
    # Name of the query parameter, or JSON pointer into the body.
    where: str
    # Species that a name may mean, where it is the name that is not clear.
    candidates: NotRequired[list[NameCandidate]]
    # Fields of the request that, set to these values together, lead on. On a refused plan the
    # offers are the planner's own; the first was tried and has a plan.
    offer: NotRequired[list[Change]]


# What the drip runs from. `jug`: a jug that you fill with one charge at a time, so that a
# stuck valve can do little. `tank`: a hose that hangs in the tank. If not given, `tank` where
# `source_tank.surface`, `line.head` or `line.intake_depth` describes such a hose, else `jug`.
Feed: TypeAlias = 'Literal["jug", "tank"]'

# The one field that `only=` asked for: a quantity, or a salinity on both scales.
FieldAnswer: TypeAlias = 'Union[Quantity, SalinityPair]'

# Volume flow, mL/min.
Flow: TypeAlias = 'Quantity'

class FoundChange(TypedDict):
    """A change that the readings show, with the evidence."""

    # Something to tell a person; programs read the code.
    evidence: Note
    kind: Literal["slip", "clog", "leak", "poured_off", "filled_up", "wrong_instrument", "wrong_time"]
    # From the first drop, at the earliest.
    since: Duration


# Share of a whole, 1.
Fraction: TypeAlias = 'Quantity'

# A share: 15 % or 0.15.
FractionText: TypeAlias = 'str'

class GreatestLength(TypedDict):
    """Largest length on record."""

    # Length, cm.
    length: Length
    length_type: str
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class GrowthAnswer(TypedDict):
    """The salinity of an animal's water as it grows."""

    id: str
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    name: str
    notes: Notes
    # The first point is now.
    path: list[GrowthPoint]
    scientific_name: str
    # Now.
    stage: LifeStage
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # The path as home_tank.target_curve of a transfer plan takes it.
    target_curve: list[TransferTargetPoint]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]


class GrowthPoint(TypedDict):
    """The water at the start of a life stage."""

    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Known bounds of salinity on the practical scale, with their source. A bound admits half
    # of its last digit.
    preferred_range: SourcedPracticalBand
    # preferred_range as g/kg, with the same numbers.
    preferred_salinity: SourcedSalinityBand
    # Absolute salinity, g/kg.
    salinity: AbsoluteSalinity
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # Length of time, h.
    time: Duration


class HelperKey(TypedDict):
    """A key that opens the log of one transfer."""

    # Sent as Authorization: Bearer KEY.
    key: str


class IndexLine(TypedDict):
    """IndexLine."""

    # HTTP method.
    method: str
    # Its operationId in the contract.
    operation: str
    # Path, with parameters in braces.
    path: str
    # What it answers.
    summary: str


# The request after defaults, as strings that can be sent again.
Inputs: TypeAlias = 'dict[str, Any]'

# A glass hydrometer, a plastic box with a swinging pointer, a refractometer, a conductivity
# meter, or one that shows dissolved solids by a factor.
InstrumentKind: TypeAlias = 'Literal["none", "hydrometer", "pointer_hydrometer", "refractometer", "conductivity", "tds"]'

class Intake(TypedDict):
    """How deep the end of the hose hangs under the surface of the source when a run of the drip starts. It holds for upright walls and a source that nothing refills."""

    # Where it hangs already if that will do, else midway between.
    depth: Length
    # More would let a failed valve overflow the container, or is the bottom of the source.
    greatest: Length
    # Less would come out of the water before the run ends.
    least: Length
    # Of the start of the run.
    time: Duration


class Interpretation(TypedDict):
    """One water that a reading can mean."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # A specific gravity at its two temperatures, or one read on a glass hydrometer marked for
    # 60 °F; a conductivity as the water has it, or as a pen shows it that brings it to 25
    # °C; dissolved solids, which are a conductivity times the factor of the pen.
    read_as: ReadAs
    # The two temperatures that a specific gravity is taken at.
    convention: NotRequired[str]
    # Of the pen.
    tds_factor: NotRequired[float]


class JudgedReading(TypedDict):
    """One number of the log against what all the others say."""

    # In standard deviations.
    deviation: float
    # In the log.
    entry: int
    # A value in a fixed unit, with its standard uncertainty (k = 1) where known.
    expected: Quantity
    # With the uncertainty it was weighed by; a salinity in g/kg.
    read: Quantity
    # More than 3.5 of them, and so left out.
    suspect: bool
    # From the first drop.
    time: Duration
    what: Literal["salinity", "volume", "level", "drops"]
    # What may be wrong with it.
    why: NotRequired[Note]


class Judgement(TypedDict):
    """What a water means for one life stage."""

    reasons: Notes
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    verdict: Verdict
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    ph: NotRequired[Verdict]
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    salinity: NotRequired[Verdict]
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    temperature: NotRequired[Verdict]


class Leaving(TypedDict):
    """A member without whom the rest share a band, or are not known to share none."""

    id: str
    name: str
    stage: LifeStage
    # Of the rest.
    status: SharedStatus
    # range.min as g/kg, with the same numbers.
    lower: NotRequired[AbsoluteSalinity]
    # They share; absent where a bound is missing.
    range: NotRequired[PracticalBand]
    # range.max as g/kg, with the same numbers.
    upper: NotRequired[AbsoluteSalinity]


# Length, cm.
Length: TypeAlias = 'Quantity'

# A length: cm, mm, m, in, ft.
LengthText: TypeAlias = 'str'

LifeStage: TypeAlias = 'Literal["larva", "fry", "juvenile", "smolt", "adult", "all"]'

class LifeSupport(TypedDict):
    """What the animals do to the water they are held in. Species differ, so the greatest use is twice the likely one, and the limits hold at that."""

    # How many animals the limits allow, as a multiple of those given.
    most_animals: Fraction
    # The most, at the likely use.
    nh3: Ammonia
    # Ammonia as nitrogen, mg/L N.
    nh3_at_greatest_use: Ammonia
    # The least, at the likely use.
    oxygen: DissolvedOxygen
    # Dissolved oxygen, mg/L.
    oxygen_at_greatest_use: DissolvedOxygen
    # Judged at: the highest of both waters, as they are and in air.
    ph: PH
    # Judged at: the warmest of waters and room.
    temperature: Temperature
    # How soon oxygen is down to 3 mg/L, where fish gasp, if air stone and drip stop at the
    # worst moment, at the greatest use; a day stands for that and more.
    without_air: Duration


# How well a value is founded: read in a public copy of the source, following from a
# definition, a custom of the trade without a source, recalled, or a default proposed here.
Mark: TypeAlias = 'Literal["published", "definition", "common-practice", "memory", "proposed"]'

# Mass, kg.
Mass: TypeAlias = 'Quantity'

# A mass: kg, g, lb, oz.
MassText: TypeAlias = 'str'

class Method(TypedDict):
    """One formula."""

    key: str
    source: str
    standing: Literal["standard", "published_fit", "definition", "common_practice", "proposed"]
    title: str
    uncertainty: str
    validity: str


# Formulas used, as keys of /v1/methods.
MethodKeys: TypeAlias = 'list[str]'

class MethodsAnswer(TypedDict):
    """The formulas in use."""

    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    items: list[Method]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines, in both unit families.
    summary: Summary


class Model(TypedDict):
    """Model."""

    # Version of the species table.
    data_version: str
    # Version of the formulas.
    version: str


class NameCandidate(TypedDict):
    """A species that a name may mean."""

    # The name of it that comes near.
    by: str
    id: str
    # What it is usually called.
    name: str
    scientific_name: str


class NameMatch(TypedDict):
    """How a name was understood; absent where none was asked for. Act on an exact one only."""

    # The name that was looked for, without the words of a question.
    asked: str
    # Species that it may mean; one where it is exact, none where it is not in the table.
    candidates: list[NameCandidate]
    # A name of one species and of no other; a name or a part of one that several are called
    # by; near the spelling of a name; in no name of the table.
    outcome: NameOutcome


# A name of one species and of no other; a name or a part of one that several are called by;
# near the spelling of a name; in no name of the table.
NameOutcome: TypeAlias = 'Literal["exact", "several", "spelling", "none"]'

class NearMiss(TypedDict):
    """A species whose name comes near."""

    id: str
    name: str


# A nitrite, with its basis: mg/L N, mg/L NO2.
NitriteText: TypeAlias = 'str'

class Note(TypedDict):
    """Something to tell a person; programs read the code."""

    code: str
    text: str


Notes: TypeAlias = 'list[Note]'

class OpenLine(TypedDict):
    """What runs through the hose if the valve fails or is left open. The head is taken to stay as it is, so the times come early."""

    # Under the greatest head of the plan.
    flow: Flow
    # How the water runs.
    regime: Literal["laminar", "transitional", "turbulent"]
    # The same from the most that the plan has in the container.
    least_time_to_rim: NotRequired[Duration]
    # From the start volume until the container is full to the rim. Left out where the source
    # is empty, or no higher than the hose ends, before that.
    time_to_rim: NotRequired[Duration]


Origin: TypeAlias = 'Literal["captive", "wild", "unknown"]'

# Osmolality, mOsm/kg.
Osmolality: TypeAlias = 'Quantity'

# Dissolved oxygen.
OxygenText: TypeAlias = 'str'

# pH on the NBS buffers, pH.
PH: TypeAlias = 'Quantity'

# A pH on the NBS buffers.
PHText: TypeAlias = 'str'

class Phase(TypedDict):
    """One thing to do, or to let run."""

    # Length of time, h.
    duration: Duration
    # Practical salinity (PSS-78), ppt.
    from_salinity: PracticalSalinity
    # Something to tell a person; programs read the code.
    instruction: Note
    kind: Literal["prepare", "move", "fill", "run_over", "cups", "pour_off", "rest", "release", "water_change", "hold"]
    # Whether the valve is set anew.
    set_valve: bool
    # Length of time, h.
    start: Duration
    # Practical salinity (PSS-78), ppt.
    to_salinity: PracticalSalinity
    # What one of the cups holds.
    cup: NotRequired[Volume]
    # How many measured cups are poured in, each over a minute.
    cups: NotRequired[int]
    # Drops in time, drops/s.
    drip: NotRequired[DripRate]
    # From one cup to the next.
    every: NotRequired[Duration]
    # Volume flow, mL/min.
    flow: NotRequired[Flow]
    # Length, cm.
    from_level: NotRequired[Length]
    # Of the water they start in, where nobody gave its volume: 1 is the mark of the start.
    from_part: NotRequired[Fraction]
    # Volume, L.
    from_volume: NotRequired[Volume]
    # Salinity of the water that is put in.
    new_water: NotRequired[PracticalSalinity]
    # Back to the same level.
    put_in: NotRequired[Volume]
    # Anhydrous, for the new water, rounded to what a kitchen scale shows: 1 g below 1 kg, else
    # 10 g.
    salt: NotRequired[Mass]
    # That the new water is made of.
    source_water: NotRequired[Volume]
    # Number of the stage it belongs to.
    stage: NotRequired[int]
    # Of the tank, on a ramp.
    take_out: NotRequired[Volume]
    # Length, cm.
    to_level: NotRequired[Length]
    # The mark it ends at, in the same way.
    to_part: NotRequired[Fraction]
    # Volume, L.
    to_volume: NotRequired[Volume]


# How to carry the animals over. Times count from the first drop, or from the move.
PlanAnswer = TypedDict("PlanAnswer", {
    # What was taken where nothing was given.
    "assumptions": "Notes",
    # What can hurt someone or an animal.
    "cautions": "Notes",
    # When to look, and what should be seen.
    "checkpoints": "list[Checkpoint]",
    # The water around the animals in time.
    "curve": "list[CurvePoint]",
    # Until the tolerance is reached, as the keeper can set it.
    "duration": "Duration",
    # The optimum before rounding to drops that can be counted, with as many pour-offs as the
    # container forces.
    "exact_duration": "Duration",
    # Between the two waters at the start.
    "gap": "AbsoluteSalinity",
    # The request after defaults, as strings that can be sent again.
    "inputs": "Inputs",
    # No schedule under the limits is faster.
    "least_duration": "Duration",
    # Every limit and how close the plan comes to it.
    "limits": "list[PlanLimit]",
    # Formulas used, as keys of /v1/methods.
    "methods": "MethodKeys",
    "model": "Model",
    # What to do, in order.
    "phases": "list[Phase]",
    # Times water is poured off.
    "pour_offs": "int",
    # Why this route.
    "reason": "Note",
    # The last step.
    "release": "Release",
    # In one step, by a drip, by measured cups poured in by hand, by changing the tank around
    # the animals, by that and then a drip, or in stages through holding tanks. Only answers
    # have `out_of_bag`: out of foul bag water first, whatever was asked for; and `by_marks`: a
    # drip in a container of which nobody gave the volume, in parts of the starting level.
    "route": "TransferRoute",
    # Times the valve is set.
    "settings": "int",
    # The answer in a few short lines, in both unit families.
    "summary": "Summary",
    # Gap that remains at the release.
    "tolerance": "AbsoluteSalinity",
    # What the plan cannot do, or does at the edge of a range.
    "warnings": "Notes",
    # To look at once they are there, and when to call a vet.
    "after": "NotRequired[list[Note]]",
    # Other ways to drip, each of which takes less time, fewer visits or less water than this
    # plan and than each other way; none where there is no such way. With `prefer` the plan
    # takes the least there is, with up to two pour-offs more than the container forces.
    "alternatives": "NotRequired[list[Alternative]]",
    # To go through before the first step.
    "before": "NotRequired[list[Note]]",
    # Duration over least duration.
    "bound_ratio": "NotRequired[float]",
    # With a drip; in stages, of the last.
    "draw": "NotRequired[Draw]",
    # What may fail while nobody looks, each with the first act.
    "if": "NotRequired[list[Note]]",
    # With a drip of animals whose count and mass are given.
    "life_support": "NotRequired[LifeSupport]",
    # New water that a plan by marks takes in all, in parts of the water they start in.
    "new_water_parts": "NotRequired[Fraction]",
    # What the water changes of a ramp take in all.
    "ramp": "NotRequired[RampTotals]",
    # Whether the search for this plan went to its end. Complete: no plan is better by more
    # than 0.3 %. Bounded: the most schedules for one request were tried first; the plan keeps
    # every limit, but a better one may exist. Missing in plans that release 0.2.0 saved.
    "search": "NotRequired[Literal[\"complete\", \"bounded\"]]",
    # The way back, where the container is known.
    "set_aside": "NotRequired[SetAside]",
    # Of a way through holding tanks.
    "stages": "NotRequired[list[TransferStage]]",
    # Of the water changes of a ramp, anhydrous.
    "total_salt": "NotRequired[Mass]",
    # Species that were asked for by another name than their id, and how each was understood.
    "understood": "NotRequired[UnderstoodNames]",
    # Of a drip: times someone must come, to start it, set the valve, pour off, refill the jug,
    # close the valve and release. Plans of earlier releases do not say.
    "visits": "NotRequired[int]",
})

PlanField: TypeAlias = 'Literal["duration", "exact_duration", "least_duration"]'

class PlanLimit(TypedDict):
    """One limit."""

    # A looser limit would let the plan be faster.
    binding: bool
    # The most the plan does.
    extreme: Quantity
    # A value in a fixed unit, with its standard uncertainty (k = 1) where known.
    limit: Quantity
    # Limit less extreme.
    margin: Quantity
    name: str
    standing: Literal["given", "proposed", "definition", "common_practice", "published_fit", "standard"]


# One water: volume, salinity, temperature and, if known, alkalinity and pH, with commas
# between.
PortionText: TypeAlias = 'str'

class PracticalBand(TypedDict):
    """Known bounds of salinity on the practical scale; a bound that is absent is unknown, never zero and never infinite."""

    # Practical salinity (PSS-78), ppt.
    max: NotRequired[PracticalSalinity]
    # Practical salinity (PSS-78), ppt.
    min: NotRequired[PracticalSalinity]


# Practical salinity (PSS-78), ppt.
PracticalSalinity: TypeAlias = 'Quantity'

# What a drip should take least of.
Preference: TypeAlias = 'Literal["time", "visits", "water"]'

class Problem(TypedDict):
    """A problem document (RFC 9457)."""

    # HTTP status.
    status: int
    # Short name of the type.
    title: str
    # Page that explains this type of problem.
    type: str
    # What happened here.
    detail: NotRequired[str]
    errors: NotRequired[list[Fault]]
    # How many more faults there are than errors lists.
    more_errors: NotRequired[int]
    # Name of this request in the server's log.
    request_id: NotRequired[str]


class Quantity(TypedDict):
    """A value in a fixed unit, with its standard uncertainty (k = 1) where known."""

    unit: str
    value: float
    uncertainty: NotRequired[float]


class RampLimits(TypedDict):
    """Limits of changing the tank around the animal."""

    # Absolute salinity, g/kg.
    per_day: AbsoluteSalinity
    # Absolute salinity, g/kg.
    per_week: AbsoluteSalinity


class RampTotals(TypedDict):
    """What the water changes of a ramp take in all. No ramp under the limits takes fewer days."""

    # Number of water changes.
    changes: int
    # From the first day to the last change.
    days: int
    # Anhydrous, in all; 0 where the source water alone does it.
    salt: Mass
    # Whether the search for fewer changes and less water ended by itself, or at its bound.
    search: Literal["complete", "bounded"]
    # New water in all.
    water: Volume
    # A plan that takes up to a tenth longer and less salt, water or changes.
    cheaper: NotRequired[CheaperRamp]


# A specific gravity at its two temperatures, or one read on a glass hydrometer marked for 60
# °F; a conductivity as the water has it, or as a pen shows it that brings it to 25 °C;
# dissolved solids, which are a conductivity times the factor of the pen.
ReadAs: TypeAlias = 'Literal["true_gravity", "glass_hydrometer", "true_conductivity", "compensated_conductivity", "dissolved_solids"]'

# A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
ReadingText: TypeAlias = 'str'

class ReadingValue(TypedDict):
    """What an instrument shows."""

    unit: str
    value: float
    convention: NotRequired[str]
    uncertainty: NotRequired[float]


# Refractive index at 589.3 nm relative to air, nD.
RefractiveIndex: TypeAlias = 'Quantity'

# What the marks of a refractometer were drawn for.
RefractometerScale: TypeAlias = 'Literal["seawater", "nacl", "brix"]'

class Release(TypedDict):
    """The last step."""

    # Absolute salinity, g/kg.
    gap: AbsoluteSalinity
    # Before and after it, without other change.
    rest: Duration
    # Length of time, h.
    time: Duration


class SalinityBand(TypedDict):
    """Known bounds of salinity; a bound that is absent is unknown, never zero and never infinite."""

    # Absolute salinity, g/kg.
    max: NotRequired[AbsoluteSalinity]
    # Absolute salinity, g/kg.
    min: NotRequired[AbsoluteSalinity]


# A difference of salinity: g/kg or ppt.
SalinityDifferenceText: TypeAlias = 'str'

class SalinityPair(TypedDict):
    """One salinity on both scales."""

    # Absolute salinity, g/kg.
    absolute: AbsoluteSalinity
    # Practical salinity (PSS-78), ppt.
    practical: PracticalSalinity


# Change of absolute salinity in time, g/kg/h.
SalinityRate: TypeAlias = 'Quantity'

# A change of salinity in time.
SalinityRateText: TypeAlias = 'str'

SaltKind: TypeAlias = 'Literal["sea_salt", "nacl"]'

class SaltMixAnswer(TypedDict):
    """Water to be made, and how."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # What was taken where nothing was given.
    assumptions: Notes
    # What can hurt someone or an animal.
    cautions: Notes
    # Volume, L.
    final_volume: Volume
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Of the product.
    salt: Mass
    # In the finished water.
    salt_per_litre: SaltPerLitre
    # To start from, at the same temperature.
    source_water: Volume
    # What to do, in order.
    steps: Notes
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # As used.
    product_water_content: NotRequired[Fraction]
    # Of a fully hydrated mix, where the water content of the product is not known.
    salt_hydrated: NotRequired[Mass]


# Sea salt per litre of water at the stated temperature, g/L.
SaltPerLitre: TypeAlias = 'Quantity'

class SavedTransferAnswer(TypedDict):
    """A saved transfer as it stands."""

    # What the log tells.
    course: Course
    created_at: str
    # When it will be deleted.
    expires_at: str
    # Opens the transfer to whoever knows it.
    id: str
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # What was read, seen and reported, as it was sent.
    log: list[TransferReading]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Of the first drop.
    start: str
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # From when on nothing more is logged, but what goes wrong.
    end: NotRequired[str]
    # Changes the transfer; told once, when it is saved.
    key: NotRequired[str]
    note: NotRequired[str]
    # In force; none once it is stopped, or where no plan leads on.
    plan: NotRequired[PlanAnswer]
    # From when the times of the plan in force count.
    plan_start: NotRequired[str]
    state: NotRequired[Literal["planned", "under_way", "stopped", "finished", "cancelled"]]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]


# How carefully a life stage must be moved.
SensitivityClass: TypeAlias = 'Literal["hardy", "moderate", "delicate", "invertebrate", "stenohaline-fresh", "stenohaline-marine", "plant"]'

class SetAside(TypedDict):
    """The way back: water the animals came in, kept aerated and covered."""

    # Length of time, h.
    until: Duration
    # Volume, L.
    volume: Volume


# Whether some water suits everybody.
SharedStatus: TypeAlias = 'Literal["shared", "none", "unknown"]'

class SmallestGroup(TypedDict):
    """The smallest number of its own kind to keep it with."""

    count: int
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class Source(TypedDict):
    """Where a value was found."""

    citation: str
    key: str
    # How much of it was read; absent if it was not.
    seen: NotRequired[str]
    # As a sentence names it.
    short_name: NotRequired[str]
    url: NotRequired[str]
    year: NotRequired[int]


class SourcedPHBand(TypedDict):
    """Known bounds of pH with their source."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: NotRequired[Mark]
    # pH on the NBS buffers, pH.
    max: NotRequired[PH]
    # pH on the NBS buffers, pH.
    min: NotRequired[PH]
    # Where a value was found.
    source: NotRequired[Source]


class SourcedPracticalBand(TypedDict):
    """Known bounds of salinity on the practical scale, with their source. A bound admits half of its last digit."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: NotRequired[Mark]
    # Practical salinity (PSS-78), ppt.
    max: NotRequired[PracticalSalinity]
    # Kind of evidence for the maximum, where it is another.
    max_basis: NotRequired[str]
    # Of the maximum, where it rests on something else than the minimum.
    max_mark: NotRequired[Mark]
    # Practical salinity (PSS-78), ppt.
    min: NotRequired[PracticalSalinity]
    # Where a value was found.
    source: NotRequired[Source]


class SourcedSalinityBand(TypedDict):
    """Known bounds of salinity with their source."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: NotRequired[Mark]
    # Absolute salinity, g/kg.
    max: NotRequired[AbsoluteSalinity]
    # Kind of evidence for the maximum, where it is another.
    max_basis: NotRequired[str]
    # Of the maximum, where it rests on something else than the minimum.
    max_mark: NotRequired[Mark]
    # Absolute salinity, g/kg.
    min: NotRequired[AbsoluteSalinity]
    # Where a value was found.
    source: NotRequired[Source]


class SourcedTemperatureBand(TypedDict):
    """Known bounds of temperature with their source."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: NotRequired[Mark]
    # Temperature (ITS-90), °C.
    max: NotRequired[Temperature]
    # Temperature (ITS-90), °C.
    min: NotRequired[Temperature]
    # Where a value was found.
    source: NotRequired[Source]


class SpeciesAnswer(TypedDict):
    """A species with what is known of its life stages."""

    # How a species lives with others, whether it needs land, and how to carry it; what is
    # absent is not known.
    behaviour: SpeciesBehaviour
    cautions: Notes
    common_names: list[str]
    family: str
    german_names: list[str]
    # Kind of organism.
    group: SpeciesGroup
    # fresh, brackish, marine, as a database flags it.
    habitat: list[Trait]
    # To people and tank mates; none named is no all-clear.
    hazards: list[Trait]
    id: str
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Rules that are known of; others may hold in your place.
    law: list[Trait]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    scientific_name: str
    # Of these names, those that others are called by as well, in the table or beyond it; they
    # pick no species.
    shared_names: list[str]
    # What is known of each life stage.
    stages: list[Stage]
    # The answer in a few short lines, in both unit families.
    summary: Summary
    synonyms: list[str]
    # Life stages of which the table holds nothing.
    unknown_stages: list[LifeStage]
    air_breather: NotRequired[str]
    # Build, from which the mass at a length is taken; from memory.
    body_shape: NotRequired[Literal["eel-like", "elongated", "fusiform", "short-and-deep"]]
    climate_zone: NotRequired[str]
    # The row speaks for a group of species, which may differ.
    collective: NotRequired[bool]
    # How the species was listed in a year; the law of the place and the day counts.
    conservation: NotRequired[Conservation]
    database_id: NotRequired[str]
    # In which waters the young and the grown live.
    life_cycle: NotRequired[SpeciesLifeCycle]
    # An entry of the operator of this service.
    local: NotRequired[bool]
    # Between waters, as anadromous.
    migration: NotRequired[Trait]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]
    # Of these names, those that mean this species alone though names of others end in them.
    usual_names: NotRequired[list[str]]


class SpeciesBehaviour(TypedDict):
    """How a species lives with others, whether it needs land, and how to carry it; what is absent is not known."""

    notes: list[str]
    # peaceful, semi-aggressive, aggressive, fin-nipper, predator-of-fish,
    # predator-of-small-fish (a tenth of its length), predator-of-shrimp-and-snails,
    # eats-no-fish (however large it grows), species-only, one-pair (more than two of its kind
    # fight).
    temper: list[Trait]
    # no, perch (rests out of the water) or land-and-water (needs both).
    leaves_water: NotRequired[Trait]
    # yes or no.
    lid: NotRequired[Trait]
    # How to carry it: under-water, keep-wet-short or in-air-ok.
    moving: NotRequired[Trait]
    # The smallest number of its own kind to keep it with.
    smallest_group: NotRequired[SmallestGroup]


class SpeciesFacets(TypedDict):
    """How many of all species found have each value, the most frequent first."""

    family: list[Facet]
    group: list[Facet]
    # A species counts once for each class of its stages.
    sensitivity_class: list[Facet]


# Kind of organism.
SpeciesGroup: TypeAlias = 'Literal["fish", "crustacean", "mollusc", "plant", "algae", "cnidarian", "amphibian", "reptile", "rotifer", "chelicerate"]'

class SpeciesJudgement(TypedDict):
    """What a water means for a life stage of a species."""

    id: str
    name: str
    reasons: Notes
    stage: LifeStage
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    verdict: Verdict
    # nearest_salinity as g/kg, with the same numbers.
    nearest: NotRequired[AbsoluteSalinity]
    # Salinity nearest to this one that the species is to be kept at: of its preferred band,
    # and where that is not known of what it may be planned for. Absent where this one will do.
    nearest_salinity: NotRequired[PracticalSalinity]
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    ph: NotRequired[Verdict]
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    salinity: NotRequired[Verdict]
    # What a water means for an animal. preferred: keep it there. tolerated: it survives the
    # salinity for a while but is not to be kept there, unless the reasons say that it is
    # ordinary sea water or that no preference is known; of a temperature or pH alone, that
    # records have it. unknown: no record says. outside: past a known bound.
    temperature: NotRequired[Verdict]


class SpeciesLifeCycle(TypedDict):
    """In which waters the young and the grown live."""

    # On the larvae.
    notes: list[str]
    kind: NotRequired[Literal["direct", "amphidromous", "anadromous", "catadromous"]]
    # Salinity that the larvae need.
    larva_range: NotRequired[SourcedPracticalBand]
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: NotRequired[Mark]
    # Where a value was found.
    source: NotRequired[Source]


class SpeciesListAnswer(TypedDict):
    """Species found, best match first."""

    # How many of all species found have each value, the most frequent first.
    facets: SpeciesFacets
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Have something in common with a name that is not in the table.
    near: list[NameCandidate]
    # near, and the candidates of a misspelled name.
    near_misses: list[NearMiss]
    # Species left out before the first.
    offset: int
    species: list[SpeciesSummary]
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # Of all pages.
    total: int
    # How a name was understood; absent where none was asked for. Act on an exact one only.
    match: NotRequired[NameMatch]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]


class SpeciesRef(TypedDict):
    """A member of a community."""

    id: str
    name: str
    stage: LifeStage


# Order of species.
SpeciesSort: TypeAlias = 'Literal["match", "scientific_name", "common_name", "family", "max_length"]'

class SpeciesSummary(TypedDict):
    """A species in a list."""

    common_names: list[str]
    family: str
    german_names: list[str]
    # Kind of organism.
    group: SpeciesGroup
    id: str
    scientific_name: str
    # Of these names, those that others are called by as well, in the table or beyond it; they
    # pick no species.
    shared_names: list[str]
    # One for each life stage that is known.
    stages: list[StageSummary]
    # Older scientific names.
    synonyms: list[str]
    # The row speaks for a group of species, which may differ.
    collective: NotRequired[bool]
    # An entry of the operator of this service.
    local: NotRequired[bool]


# Specific gravity, SG.
SpecificGravity: TypeAlias = 'Quantity'

class Stage(TypedDict):
    """What is known of a life stage; what is absent is unknown."""

    # Of the salinity as a whole.
    confidence: Mark
    # Default limits of the sensitivity class for an animal of unknown origin; proposed here,
    # not found by anybody.
    limits: ClassLimits
    notes: list[str]
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # What one laboratory saw; never a limit.
    greatest_change_survived: NotRequired[ChangeSurvived]
    # Largest length on record.
    max_length: NotRequired[GreatestLength]
    # Known bounds of pH with their source.
    ph: NotRequired[SourcedPHBand]
    # Known bounds of salinity on the practical scale, with their source. A bound admits half
    # of its last digit.
    preferred_range: NotRequired[SourcedPracticalBand]
    # preferred_range as g/kg, with the same numbers.
    preferred_salinity: NotRequired[SourcedSalinityBand]
    # survived_range as g/kg, with the same numbers.
    salinity: NotRequired[SourcedSalinityBand]
    # What it was seen or is said to survive; not where to keep it.
    survived_range: NotRequired[SourcedPracticalBand]
    # Where sources found or keep it; not lethal limits.
    temperature: NotRequired[SourcedTemperatureBand]


class StageSummary(TypedDict):
    """A life stage in a list."""

    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    confidence: Mark
    # Known bounds of salinity on the practical scale; a bound that is absent is unknown, never
    # zero and never infinite.
    preferred_range: PracticalBand
    # preferred_range as g/kg, with the same numbers.
    preferred_salinity: SalinityBand
    # survived_range as g/kg, with the same numbers.
    salinity: SalinityBand
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # What it was seen or is said to survive; not where to keep it.
    survived_range: PracticalBand
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    preferred_salinity_mark: NotRequired[Mark]
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    salinity_mark: NotRequired[Mark]


# A time with its zone, as 2026-12-01T09:00:00Z; from 1970 to 2199.
StartText: TypeAlias = 'str'

class StepBack(TypedDict):
    """Half a step towards the water the animals came from: half of what a step may be, in the stricter direction."""

    # Absolute salinity, g/kg.
    change: AbsoluteSalinity
    # To go to.
    practical_salinity: PracticalSalinity
    # Of the water set aside, in place of as much.
    old_water: NotRequired[Volume]


# The answer in a few short lines, in both unit families.
Summary: TypeAlias = 'str'

# Temperature (ITS-90), °C.
Temperature: TypeAlias = 'Quantity'

# A change of temperature in time.
TemperatureRateText: TypeAlias = 'str'

# A temperature, C or F.
TemperatureText: TypeAlias = 'str'

class Together(TypedDict):
    """What temper, predation and numbers mean for the company, which decides before the water does. Common practice; what is not known is not told, which is no all-clear."""

    # Some of them must not live together, whatever the water.
    apart: bool
    # What keeps them apart first.
    reasons: Notes


class TopOffAnswer(TypedDict):
    """What evaporation did and what to add."""

    # What was taken where nothing was given.
    assumptions: Notes
    # What can hurt someone or an animal.
    cautions: Notes
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # Over the period.
    drift: NotRequired[AbsoluteSalinity]
    # Pure water that restores level and salinity.
    fresh_water: NotRequired[Volume]
    # Volume, L.
    missing: NotRequired[Volume]
    # When topped off with the top-off water.
    salinity_after: NotRequired[SalinityPair]
    # After the period.
    salinity_at_end: NotRequired[SalinityPair]
    # One salinity on both scales.
    salinity_now: NotRequired[SalinityPair]


class Trait(TypedDict):
    """A word on a species and how well it is founded."""

    kind: str
    # How well a value is founded: read in a public copy of the source, following from a
    # definition, a custom of the trade without a source, recalled, or a default proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class TransferAnimal(TypedDict):
    """One kind of animal. A species brings its sensitivity and the water it may be planned for."""

    condition: NotRequired[Condition]
    # How many; with the mass of each kind, oxygen and ammonia are limits too.
    count: NotRequired[int]
    # Total length of one; stands in for the mass of a fish of the species table.
    length: NotRequired[LengthText]
    # Of one.
    mass: NotRequired[MassText]
    origin: NotRequired[Origin]
    # How carefully a life stage must be moved.
    sensitivity: NotRequired[SensitivityClass]
    # Its id, as /v1/species has it, or a name that no other is called by.
    species: NotRequired[str]
    stage: NotRequired[LifeStage]


class TransferChange(TypedDict):
    """What is to be changed; at least one."""

    # A time with its zone, as 2026-12-01T09:00:00Z; from 1970 to 2199.
    end: NotRequired[StartText]
    # Anything worth remembering, as which valve it is.
    note: NotRequired[str]
    # A time with its zone, as 2026-12-01T09:00:00Z; from 1970 to 2199.
    start: NotRequired[StartText]
    # finished: the animals are over. cancelled: the move is called off. Either ends the
    # transfer, now if no `end` is given.
    state: NotRequired[Literal["finished", "cancelled"]]


class TransferContainer(TypedDict):
    """The holding container. Inner sizes, where given, tell its capacity and turn volumes into level marks."""

    # Stirred by an air stone. Without one a drip is refused.
    aerated: NotRequired[bool]
    # A length: cm, mm, m, in, ft.
    bottom_diameter: NotRequired[LengthText]
    # To the rim.
    capacity: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    diameter: NotRequired[LengthText]
    # Room left empty under the rim; a tenth of the capacity if not given.
    freeboard: NotRequired[VolumeText]
    # Whether a heater holds the temperature of the container.
    heated: NotRequired[bool]
    # A length: cm, mm, m, in, ft.
    height: NotRequired[LengthText]
    # Whether it stands in water that holds its temperature.
    in_bath: NotRequired[bool]
    # The animals may stand in.
    least_volume: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    length: NotRequired[LengthText]
    # A length: cm, mm, m, in, ft.
    middle_width: NotRequired[LengthText]
    # Whether an overflow keeps it at its start volume, so that nothing is poured off.
    overflow: NotRequired[bool]
    # A bucket is a frustum; a bow front has a curved front pane.
    shape: NotRequired[VesselShape]
    # Of the water the animals are in.
    start_volume: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    top_diameter: NotRequired[LengthText]
    # Of the bucket under the overflow.
    waste_capacity: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    width: NotRequired[LengthText]


class TransferEvent(TypedDict):
    """What happened, and whatever was read and seen with it. Only `event` is needed."""

    # What happened. stop: you closed the clamp for good. animals_look_wrong: any sign of
    # distress. late: you come after the time of a visit. clamp_touched: the drip was set or
    # moved by hand. refilled: the jug or the container was filled up. restarted: only in a
    # log, where a stopped transfer went on by a new plan.
    event: TransferEventKind
    # How the animals are. All but ok stop the plan: signs of distress, of which not feeding is
    # one 24 h after the release, and a moult, which rests for one to two days.
    behaviour: NotRequired[Behaviour]
    # That were poured in since the start, on the route cups.
    cups: NotRequired[int]
    # That were counted; 0 where nothing drips.
    drops: NotRequired[int]
    # The time they were counted in.
    drops_in: NotRequired[DurationText]
    # It was read with; that of the plan if not given.
    instrument: NotRequired[TransferInstrument]
    # Of the water in the container, instead of a volume, where the plan has its shape; 0.3 cm
    # is taken as its uncertainty.
    level: NotRequired[LengthText]
    # In the tank of a ramp. As long as ammonia or nitrite is above what its filter must bring
    # it to, the next change of water waits.
    nitrite: NotRequired[NitriteText]
    note: NotRequired[str]
    # In the container, on any measure. Give its uncertainty if you know it; else that of the
    # instrument is taken.
    salinity: NotRequired[ReadingText]
    # Total ammonia in the container, or in the tank of a ramp.
    tan: NotRequired[AmmoniaText]
    # Of the water in the container.
    temperature: NotRequired[TemperatureText]
    # When; now if not given.
    time: NotRequired[StartText]
    # Of water in the container; 3 % is taken as its uncertainty.
    volume: NotRequired[VolumeText]


# What happened. stop: you closed the clamp for good. animals_look_wrong: any sign of distress.
# late: you come after the time of a visit. clamp_touched: the drip was set or moved by hand.
# refilled: the jug or the container was filled up. restarted: only in a log, where a stopped
# transfer went on by a new plan.
TransferEventKind: TypeAlias = 'Literal["stop", "animals_look_wrong", "power_off", "power_back", "late", "clamp_touched", "refilled", "restarted"]'

class TransferExport(TypedDict):
    """All that is kept of a transfer."""

    # What the log tells.
    course: Course
    created_at: str
    # When it will be deleted.
    expires_at: str
    # Opens the transfer to whoever knows it.
    id: str
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # The plans that were in force one after another.
    legs: list[TransferLeg]
    # What was read, seen and reported, as it was sent.
    log: list[TransferReading]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Of the first drop.
    start: str
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # From when on nothing more is logged, but what goes wrong.
    end: NotRequired[str]
    note: NotRequired[str]
    # In force; none once it is stopped, or where no plan leads on.
    plan: NotRequired[PlanAnswer]
    # From when the times of the plan in force count.
    plan_start: NotRequired[str]
    state: NotRequired[Literal["planned", "under_way", "stopped", "finished", "cancelled"]]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]


class TransferHoldingTanks(TypedDict):
    """Tanks of one size, each with a filter of its own, that the keeper can set up."""

    # How many there are; as many as the way takes if not given.
    count: NotRequired[int]
    # What their water is made from; pure water if not given.
    source: NotRequired[ReadingText]
    # Of the water in one, net; 100 L if not given.
    volume: NotRequired[VolumeText]


class TransferHomeTank(TypedDict):
    """The tank the animals are in, which a ramp changes around them."""

    # Of water, net.
    volume: VolumeText
    # Made up with fresh water.
    evaporation_per_day: NotRequired[VolumeText]
    # Whether a filter must come along; true if not given.
    filter: NotRequired[bool]
    # Of the tank in one water change; three tenths if not given.
    greatest_share: NotRequired[FractionText]
    # What new water is made from; pure water if not given.
    source: NotRequired[ReadingText]
    # Salinities that a ramp does not go ahead of, as /v1/species/{id}/growth gives them;
    # straight between the points, the last is the new water.
    target_curve: NotRequired[list[TransferTargetPoint]]


class TransferInstrument(TypedDict):
    """An instrument of the keeper."""

    # The two temperatures of a specific gravity, sample over pure water.
    calibration: NotRequired[ConventionText]
    # What a meter does about temperature: none, nlf (ISO 7888), or a coefficient such as 1.91
    # %/C; with at 20C behind it where the display is for 20 °C.
    compensation: NotRequired[CompensationText]
    # Correction of an instrument: a factor such as 1.02(1), or with a unit what is to be
    # added, such as -0.0012(5) SG.
    correction: NotRequired[CorrectionText]
    # A glass hydrometer, a plastic box with a swinging pointer, a refractometer, a
    # conductivity meter, or one that shows dissolved solids by a factor.
    kind: NotRequired[InstrumentKind]
    # What the marks of a refractometer were drawn for.
    scale: NotRequired[RefractometerScale]
    tds_factor: NotRequired[float]
    # Whether a refractometer corrects for temperature itself.
    temperature_compensated: NotRequired[bool]
    # Of the pure water in which a refractometer without compensation is set to zero.
    zero_temperature: NotRequired[TemperatureText]


class TransferLeg(TypedDict):
    """A stretch of a transfer under one plan."""

    # From when the times of its plan count.
    start: str
    # Of a drip, as the keeper was told them.
    steps: list[TransferStep]
    # Before it, with the clamp closed.
    held: NotRequired[Duration]


class TransferLimits(TypedDict):
    """Limits the keeper sets."""

    # In one step.
    at_once: NotRequired[SalinityDifferenceText]
    # Un-ionized ammonia in the container, as nitrogen.
    nh3: NotRequired[AmmoniaText]
    # Least oxygen in the container.
    oxygen: NotRequired[OxygenText]
    # In any 24 hours, change before the plan included.
    per_24_hours: NotRequired[SalinityDifferenceText]
    # At any moment of a drip.
    per_hour: NotRequired[SalinityRateText]
    # A change of temperature in time.
    temperature_per_hour: NotRequired[TemperatureRateText]


class TransferLine(TypedDict):
    """The drip line and what its valve can do."""

    # Inner diameter of the hose, 0.2 to 20 mm. With length and head, which it then needs, the
    # plan tells how soon a failed valve fills the container.
    bore: NotRequired[LengthText]
    # Of one drop: count the drops into 10 mL.
    drop_volume: NotRequired[VolumeText]
    # Fastest that is still drops.
    greatest_drip: NotRequired[DripRateText]
    # Height, at the start, of the surface of the source above the lower end of the hose, which
    # hangs free above the water; or above the water of the container, where that end is under
    # it (outlet_submerged). Up to 3 m.
    head: NotRequired[LengthText]
    # Depth, at the start, of the upper end of the hose under the surface of the source.
    intake_depth: NotRequired[LengthText]
    # Slowest the valve holds.
    least_drip: NotRequired[DripRateText]
    # Of the hose, from end to end, 1 cm to 100 m.
    length: NotRequired[LengthText]
    # Whether the lower end of the hose is under the water of the container, so that its level
    # counts too; false if not given.
    outlet_submerged: NotRequired[bool]
    # Most times the valve is set, the first included.
    settings: NotRequired[int]
    # Outer diameter of the end that the drops fall from, 2 to 10 mm. Where no drop volume is
    # given it follows from this; otherwise the two are compared.
    tip_diameter: NotRequired[LengthText]


class TransferNow(TypedDict):
    """What to do now."""

    # The one thing to do.
    act: Note
    id: str
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # What comes next, and when.
    next: Note
    # The answer in a few short lines, in both unit families.
    summary: Summary
    verdict: Literal["not_begun", "on_course", "corrected", "arrived", "stopped", "no_way_on", "paused", "ended"]
    # Something to tell a person; programs read the code.
    why: Note
    # When something was logged last.
    last_entry_at: NotRequired[str]
    # When that is; absent where nothing is planned.
    next_at: NotRequired[str]
    # Species that were asked for by another name than their id, and how each was understood.
    understood: NotRequired[UnderstoodNames]


class TransferReading(TypedDict):
    """What was read and seen at one visit. What is left out was not looked at."""

    # How the animals are. All but ok stop the plan: signs of distress, of which not feeding is
    # one 24 h after the release, and a moult, which rests for one to two days.
    behaviour: NotRequired[Behaviour]
    # That were poured in since the start, on the route cups.
    cups: NotRequired[int]
    # That were counted; 0 where nothing drips.
    drops: NotRequired[int]
    # The time they were counted in.
    drops_in: NotRequired[DurationText]
    # What happened. stop: you closed the clamp for good. animals_look_wrong: any sign of
    # distress. late: you come after the time of a visit. clamp_touched: the drip was set or
    # moved by hand. refilled: the jug or the container was filled up. restarted: only in a
    # log, where a stopped transfer went on by a new plan.
    event: NotRequired[TransferEventKind]
    # It was read with; that of the plan if not given.
    instrument: NotRequired[TransferInstrument]
    # Of the water in the container, instead of a volume, where the plan has its shape; 0.3 cm
    # is taken as its uncertainty.
    level: NotRequired[LengthText]
    # In the tank of a ramp. As long as ammonia or nitrite is above what its filter must bring
    # it to, the next change of water waits.
    nitrite: NotRequired[NitriteText]
    note: NotRequired[str]
    # In the container, on any measure. Give its uncertainty if you know it; else that of the
    # instrument is taken.
    salinity: NotRequired[ReadingText]
    # Total ammonia in the container, or in the tank of a ramp.
    tan: NotRequired[AmmoniaText]
    # Of the water in the container.
    temperature: NotRequired[TemperatureText]
    # When; now if not given.
    time: NotRequired[StartText]
    # Of water in the container; 3 % is taken as its uncertainty.
    volume: NotRequired[VolumeText]


# What is to be moved, from where to where, and with what.
TransferRequest = TypedDict("TransferRequest", {
    # The water the animals are in.
    "from": "TransferWater",
    # The water they go to.
    "to": "TransferWater",
    "animals": "NotRequired[list[TransferAnimal]]",
    # What they are dripped in.
    "container": "NotRequired[TransferContainer]",
    # What the drip runs from. `jug`: a jug that you fill with one charge at a time, so that a
    # stuck valve can do little. `tank`: a hose that hangs in the tank. If not given, `tank`
    # where `source_tank.surface`, `line.head` or `line.intake_depth` describes such a hose,
    # else `jug`.
    "feed": "NotRequired[Feed]",
    # To live in between the stages of a long way.
    "holding_tanks": "NotRequired[TransferHoldingTanks]",
    # Animals that live there too.
    "home_mates": "NotRequired[list[TransferAnimal]]",
    # The tank the animals are in, for a ramp.
    "home_tank": "NotRequired[TransferHomeTank]",
    # What the keeper will check with.
    "instrument": "NotRequired[TransferInstrument]",
    # Instead of those of the class.
    "limits": "NotRequired[TransferLimits]",
    # The drip line.
    "line": "NotRequired[TransferLine]",
    # What a drip should take least of.
    "prefer": "NotRequired[Preference]",
    # Change of salinity in the 24 hours before the plan.
    "recent_change": "NotRequired[SalinityDifferenceText]",
    # Of the air around the container, which it comes towards if neither heater nor bath holds
    # it; life support is judged at the warmest of room and waters.
    "room_temperature": "NotRequired[TemperatureText]",
    # In one step, by a drip, by measured cups poured in by hand, by changing the tank around
    # the animals, by that and then a drip, or in stages through holding tanks. Only answers
    # have `out_of_bag`: out of foul bag water first, whatever was asked for; and `by_marks`: a
    # drip in a container of which nobody gave the volume, in parts of the starting level.
    "route": "NotRequired[TransferRoute]",
    # The tank the drip is drawn from.
    "source_tank": "NotRequired[TransferSourceTank]",
    # A time with its zone, as 2026-12-01T09:00:00Z; from 1970 to 2199.
    "start": "NotRequired[StartText]",
    # How long they pass through the new water, as in quarantine; for good if not given.
    "stay": "NotRequired[DurationText]",
    # Of the clock that quiet hours go by; that of the start if not given.
    "time_zone": "NotRequired[ZoneText]",
    # Gap to the new water that may remain at the release.
    "tolerance": "NotRequired[SalinityDifferenceText]",
    # When someone can come; without it, whenever the plan asks.
    "visits": "NotRequired[TransferVisits]",
})

# In one step, by a drip, by measured cups poured in by hand, by changing the tank around the
# animals, by that and then a drip, or in stages through holding tanks. Only answers have
# `out_of_bag`: out of foul bag water first, whatever was asked for; and `by_marks`: a drip in
# a container of which nobody gave the volume, in parts of the starting level.
TransferRoute: TypeAlias = 'Literal["auto", "direct", "drip", "cups", "ramp", "combined", "staged", "out_of_bag", "by_marks"]'

class TransferSourceTank(TypedDict):
    """The tank the drip is drawn from."""

    # A volume: L, mL, gal, gal_imp.
    volume: VolumeText
    # An area: cm2, m2.
    surface: NotRequired[AreaText]


class TransferStage(TypedDict):
    """One part of a way through holding tanks. It leads into the next of them, the last into the new water."""

    # Absolute salinity, g/kg.
    change: AbsoluteSalinity
    number: int
    # How it is gone: in one step or by a drip.
    route: TransferRoute
    # Of the water it leads to.
    salinity: PracticalSalinity
    # Length of time, h.
    start: Duration
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # What must be ready before the stage.
    condition: NotRequired[Note]
    # Of it by the drip.
    drawn: NotRequired[Volume]
    # To live there, at least.
    hold: NotRequired[Duration]
    # Of that water in the instrument of the keeper.
    reading: NotRequired[ReadingValue]
    # Anhydrous, for that water.
    salt: NotRequired[Mass]
    # That the salt goes into.
    source_water: NotRequired[Volume]
    # To make for the holding tank, what the drip takes included.
    water: NotRequired[Volume]


class TransferStep(TypedDict):
    """Pour off, set the valve, wait for the mark."""

    # Drops in time, drops/s.
    drip: DripRate
    # Whether the valve is set for it.
    set: bool
    # Volume, L.
    until: Volume
    # Volume, L.
    pour_to: NotRequired[Volume]


class TransferTargetPoint(TypedDict):
    """A salinity to be reached at a time of a ramp, and not before."""

    # A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
    salinity: ReadingText
    # From the start of the ramp.
    time: DurationText


class TransferVisits(TypedDict):
    """When someone can come to the container, to look, set the valve, pour off and release."""

    # Least time from one visit to the next.
    every: NotRequired[DurationText]
    # Least time from the start to the first visit; half an hour or the time between visits,
    # whichever is less, if not given.
    first: NotRequired[DurationText]
    # Nobody comes from this time of day. Needs `start`.
    quiet_from: NotRequired[ClockText]
    # Until this time of day.
    quiet_until: NotRequired[ClockText]


class TransferWater(TypedDict):
    """One of the two waters."""

    # A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
    salinity: ReadingText
    # A temperature, C or F.
    temperature: TemperatureText
    # A total alkalinity: dKH, meq/L, mg/L CaCO3.
    alkalinity: NotRequired[AlkalinityText]
    # Whether chlorine and chloramine are out of it; water of which the keeper says no is
    # refused.
    conditioned: NotRequired[bool]
    # Time in a shipping bag, where the water the animals are in is that of one.
    hours_in_bag: NotRequired[DurationText]
    # Nitrite. More than 0.2 mg/L N makes a bag foul, and new water is refused with it.
    nitrite: NotRequired[NitriteText]
    # A pH on the NBS buffers.
    ph: NotRequired[PHText]
    # Total ammonia.
    tan: NotRequired[AmmoniaText]


class UnderstoodName(TypedDict):
    """A species that was asked for by another name than its id."""

    asked: str
    id: str
    name: str
    scientific_name: str


# Species that were asked for by another name than their id, and how each was understood.
UnderstoodNames: TypeAlias = 'list[UnderstoodName]'

# What a water means for an animal. preferred: keep it there. tolerated: it survives the
# salinity for a while but is not to be kept there, unless the reasons say that it is ordinary
# sea water or that no preference is known; of a temperature or pH alone, that records have it.
# unknown: no record says. outside: past a known bound.
Verdict: TypeAlias = 'Literal["preferred", "tolerated", "unknown", "outside"]'

class VesselAnswer(TypedDict):
    """What a vessel holds."""

    # What was taken where nothing was given.
    assumptions: Notes
    # What can hurt someone or an animal.
    cautions: Notes
    # Length, cm.
    fill_height: Length
    # Of the empty vessel to the rim.
    gross_volume: Volume
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Of water.
    net_volume: Volume
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # At the surface.
    volume_per_level: VolumePerLength
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # Were the water fresh and at 25 °C.
    water_mass: Mass
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # Volume, L.
    rock_volume: NotRequired[Volume]
    # Of the grains.
    sand_volume: NotRequired[Volume]
    # Held between the grains; part of the net volume.
    sand_water: NotRequired[Volume]


# A bucket is a frustum; a bow front has a curved front pane.
VesselShape: TypeAlias = 'Literal["box", "cylinder", "bucket", "bow_front"]'

# Volume, L.
Volume: TypeAlias = 'Quantity'

# Volume per length of level, L/cm.
VolumePerLength: TypeAlias = 'Quantity'

# A volume: L, mL, gal, gal_imp.
VolumeText: TypeAlias = 'str'

class WaterChangeAnswer(TypedDict):
    """What to take out and put in."""

    # What was taken where nothing was given.
    assumptions: Notes
    # What can hurt someone or an animal.
    cautions: Notes
    # The request after defaults, as strings that can be sent again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    # exchange: how much reaches the target; weekly: what the new water must hold; outcome:
    # what this change makes.
    mode: Literal["exchange", "weekly", "outcome"]
    model: Model
    # Of the new water; with several steps of the last.
    new_water_salinity: SalinityPair
    # Back to the same level.
    put_in: Volume
    # One salinity on both scales.
    salinity_after: SalinityPair
    # In order.
    steps: list[ChangeStep]
    # The answer in a few short lines, in both unit families.
    summary: Summary
    # Over all steps.
    take_out: Volume
    # What the answer cannot do, or does at the edge of a range.
    warnings: Notes
    # The input that brings most of the uncertainty.
    dominant: NotRequired[Dominant]
    # To make the new water from the source.
    salt: NotRequired[Mass]
    # Of a fully hydrated mix, where the water content of the product is not known.
    salt_hydrated: NotRequired[Mass]
    # To make the new water from.
    source_water: NotRequired[Volume]


class WayOn(TypedDict):
    """How to go on after a stop."""

    # Something to tell a person; programs read the code.
    advice: Note
    # From the first drop: not before they have rested.
    earliest: Duration


# Zone of the Venice system (1958).
Zone: TypeAlias = 'Literal["limnetic", "oligohaline_beta", "oligohaline_alpha", "mesohaline_beta", "mesohaline_alpha", "polyhaline", "euhaline", "hyperhaline"]'

# A time zone by its name in the IANA data base.
ZoneText: TypeAlias = 'str'


class Operation(NamedTuple):
    """How a question is sent."""

    method: str
    path: str
    inputs: tuple[str, ...]
    headers: dict[str, str]
    """Inputs that travel in a header, and its name."""
    media: str
    """Type of the body; empty without one."""
    summary: str


OPERATIONS = {
    "get_conversion": Operation(
        "GET", "/v1/conversions", ("reading", "temperature", "instrument", "calibration", "scale", "temperature_compensated", "zero_temperature", "compensation", "tds_factor", "correction", "species", "stage", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "What one reading means on every other measure"),
    "convert_readings": Operation(
        "POST", "/v1/conversions", ("units", "lang", "decimal", "format", "sep", "again",), {}, "application/json", "Many readings at once"),
    "get_calibration": Operation(
        "GET", "/v1/conversions/calibration", ("standard", "reading", "standard_temperature", "temperature", "instrument", "calibration", "scale", "temperature_compensated", "zero_temperature", "compensation", "tds_factor", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "What a known standard tells about an instrument"),
    "list_methods": Operation(
        "GET", "/v1/methods", ("units", "lang", "decimal", "format", "sep", "again",), {}, "", "Every formula in use"),
    "get_blend": Operation(
        "GET", "/v1/mixes/blend", ("water", "target", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "What several waters give together"),
    "get_salt_mix": Operation(
        "GET", "/v1/mixes/salt", ("target", "volume", "temperature", "source", "salt_kind", "product_water_content", "calibration_batch_salt", "calibration_batch_water", "calibration_batch_reading", "shape", "length", "width", "middle_width", "height", "diameter", "top_diameter", "bottom_diameter", "fill_height", "glass", "sand_depth", "sand_porosity", "rock_mass", "rock_density", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "How much salt makes this water"),
    "get_top_off": Operation(
        "GET", "/v1/mixes/top-off", ("volume", "salinity", "missing", "salinity_now", "top_off_water", "evaporation_per_day", "period", "temperature", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "What evaporation did and what to pour in"),
    "get_water_change": Operation(
        "GET", "/v1/mixes/water-change", ("volume", "salinity", "target", "change", "new_water", "source", "temperature", "greatest_change", "greatest_share", "product_water_content", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "What a water change does, or must hold"),
    "list_species": Operation(
        "GET", "/v1/species", ("q", "group", "family", "lives_at", "keeps_with", "sort", "limit", "offset", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Find animals and plants"),
    "get_compatibility": Operation(
        "GET", "/v1/species/compatibility", ("species", "salinity", "temperature", "ph", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "The water several species share"),
    "get_species": Operation(
        "GET", "/v1/species/{id}", ("id", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "One species"),
    "get_species_growth": Operation(
        "GET", "/v1/species/{id}/growth", ("id", "stage", "salinity", "target", "grown_in", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "The water of an animal as it grows"),
    "save_transfer": Operation(
        "POST", "/v1/transfers", ("curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Save a transfer, to log readings and have the plan corrected"),
    "get_transfer_plan": Operation(
        "GET", "/v1/transfers/plan", ("from_salinity", "from_temperature", "to_salinity", "to_temperature", "from_ph", "from_alkalinity", "from_tan", "from_nitrite", "from_hours_in_bag", "to_ph", "to_alkalinity", "to_tan", "to_nitrite", "room_temperature", "container_capacity", "container_freeboard", "container_start_volume", "container_least_volume", "container_aerated", "container_heated", "container_in_bath", "container_overflow", "container_waste_capacity", "container_shape", "container_length", "container_width", "container_middle_width", "container_height", "container_diameter", "container_top_diameter", "container_bottom_diameter", "line_drop_volume", "line_least_drip", "line_greatest_drip", "line_settings", "line_tip_diameter", "line_bore", "line_length", "line_head", "line_outlet_submerged", "line_intake_depth", "source_tank_volume", "source_tank_surface", "home_tank_volume", "home_tank_source", "home_tank_greatest_share", "home_tank_evaporation_per_day", "home_tank_filter", "holding_tanks_volume", "holding_tanks_count", "holding_tanks_source", "instrument_kind", "instrument_calibration", "instrument_scale", "instrument_temperature_compensated", "instrument_zero_temperature", "instrument_compensation", "instrument_tds_factor", "instrument_correction", "tolerance", "limits_at_once", "limits_per_hour", "limits_per_24_hours", "limits_temperature_per_hour", "limits_nh3", "limits_oxygen", "recent_change", "route", "start", "time_zone", "visits_every", "visits_first", "visits_quiet_from", "visits_quiet_until", "to_conditioned", "stay", "prefer", "feed", "species", "stage", "count", "mass", "length", "sensitivity", "origin", "condition", "curve", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "A transfer plan by URL"),
    "plan_transfer": Operation(
        "POST", "/v1/transfers/plan", ("curve", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "application/json", "A transfer plan"),
    "delete_transfer": Operation(
        "DELETE", "/v1/transfers/{id}", ("id",), {"if_match": "If-Match"}, "", "Delete a saved transfer"),
    "get_transfer": Operation(
        "GET", "/v1/transfers/{id}", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "A saved transfer as it stands"),
    "change_transfer": Operation(
        "PATCH", "/v1/transfers/{id}", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"if_match": "If-Match"}, "application/json", "Change start, note or end of a saved transfer"),
    "get_transfer_calendar": Operation(
        "GET", "/v1/transfers/{id}/calendar", ("id", "units", "lang", "decimal", "format", "again",), {}, "", "Visits of a saved transfer as a calendar"),
    "get_transfer_chart": Operation(
        "GET", "/v1/transfers/{id}/chart", ("id", "units", "lang", "decimal", "format", "again",), {}, "", "Picture of a saved transfer"),
    "log_event": Operation(
        "POST", "/v1/transfers/{id}/events", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Report what happened, and get the one thing to do first"),
    "export_transfer": Operation(
        "GET", "/v1/transfers/{id}/export", ("id", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "All of a transfer, to keep"),
    "revoke_helper_key": Operation(
        "DELETE", "/v1/transfers/{id}/helper-key", ("id",), {}, "", "Revoke the helper's key"),
    "create_helper_key": Operation(
        "POST", "/v1/transfers/{id}/helper-key", ("id",), {}, "", "A key for somebody who helps"),
    "get_transfer_now": Operation(
        "GET", "/v1/transfers/{id}/now", ("id", "units", "lang", "decimal", "format", "again",), {}, "", "What to do now, in three lines"),
    "log_reading": Operation(
        "POST", "/v1/transfers/{id}/readings", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Log what was read and seen, and have the plan corrected"),
    "restart_transfer": Operation(
        "POST", "/v1/transfers/{id}/restart", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Go on after a stop, by a new plan from a reading"),
    "get_vessel_volume": Operation(
        "GET", "/v1/vessels/volume", ("shape", "length", "width", "middle_width", "height", "diameter", "top_diameter", "bottom_diameter", "fill_height", "glass", "sand_depth", "sand_porosity", "rock_mass", "rock_density", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "How much water a vessel really holds"),
}


class ProblemError(Exception):
    """The service refused: a problem document (RFC 9457) with every fault at once."""

    def __init__(self, problem: dict[str, Any], retry_after: Optional[float] = None) -> None:
        self.type: str = problem.get("type", "about:blank")
        self.title: str = problem["title"]
        self.status: int = problem["status"]
        self.detail: str = problem.get("detail", "")
        self.request_id: str = problem.get("request_id", "")
        self.errors: list[Fault] = problem.get("errors", [])
        self.retry_after = retry_after
        """Seconds that the service asked to be left alone; None if it did not."""
        lines = [f"{self.status} {self.title}"]
        lines += [f"{fault['where']}: {fault['reason']}" for fault in self.errors]
        if self.detail and not self.errors:
            lines[0] += ": " + self.detail
        super().__init__("\n".join(lines))


class Unreachable(OSError):
    """Nothing answered at the address, or not in time."""


class Client:
    """A service of Saltlock.

    base_url      where it is; $SALTLOCK_URL, or else http://localhost:8080
    timeout       seconds that an attempt may stand still
    retries       attempts after the first, where it is safe to send again: anything turned
                  away with 429 or 503, and a GET that found no service
    longest_wait  seconds of a Retry-After that are waited for; one longer raises at once
    sleep         called with the seconds to wait
    key           of a saved transfer, told once when it is saved, to change it
    """

    def __init__(self, base_url: Optional[str] = None, *, timeout: float = 10.0, retries: int = 3,
                 longest_wait: float = 30.0, sleep: Callable[[float], None] = time.sleep,
                 key: Optional[str] = None) -> None:
        self.base_url = (base_url or os.environ.get("SALTLOCK_URL") or DEFAULT_SERVER).rstrip("/")
        self.timeout = timeout
        self.retries = retries
        self.longest_wait = longest_wait
        self._sleep = sleep
        self.key = key

    def get_conversion(
        self,
        *,
        reading: ReadingText,
        temperature: Optional[TemperatureText] = None,
        instrument: Optional[InstrumentKind] = None,
        calibration: Optional[ConventionText] = None,
        scale: Optional[RefractometerScale] = None,
        temperature_compensated: Optional[bool] = None,
        zero_temperature: Optional[TemperatureText] = None,
        compensation: Optional[CompensationText] = None,
        tds_factor: Optional[float] = None,
        correction: Optional[CorrectionText] = None,
        species: Optional[str] = None,
        stage: Optional[LifeStage] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> ConversionAnswer:
        """What one reading means on every other measure.

        Takes a reading on any measure and gives all the others at the same water, with the
        corrections made, the uncertainty and the Venice zone. A measure that is out of its
        formula's range is left out and named in `warnings`.

        reading: What the instrument shows, with its unit.
        temperature: Temperature of the sample. Required where the reading depends on it (SG,
        conductivity, g/L, density, refractive index); 25 °C otherwise.
        instrument: The instrument read; `none` takes the reading as true on its scale.
        calibration: The two temperatures a hydrometer is marked for.
        scale: What a refractometer was drawn for; seawater if not given.
        temperature_compensated: Whether a refractometer corrects for temperature itself; true
        if not given.
        zero_temperature: Temperature of the pure water in which a refractometer without
        compensation was set to zero; 20 °C if not given.
        compensation: What a meter does about temperature.
        tds_factor: Factor of a meter that shows dissolved solids; 0.5, 0.64 and 0.7 are usual.
        A reading in ppm without one is answered for each.
        correction: Correction that /v1/conversions/calibration found for the instrument.
        species: A species by its id, or by a name that no other is called by: is this water
        right for it?
        stage: Life stage of that species.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_conversion",
            reading=reading,
            temperature=temperature,
            instrument=instrument,
            calibration=calibration,
            scale=scale,
            temperature_compensated=temperature_compensated,
            zero_temperature=zero_temperature,
            compensation=compensation,
            tds_factor=tds_factor,
            correction=correction,
            species=species,
            stage=stage,
            units=units,
            lang=lang,
            decimal=decimal))

    def convert_readings(
        self,
        body: list[ConversionItem],
        *,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> ConversionsAnswer:
        """Many readings at once.

        A JSON list of up to 10 000 readings, or a CSV table of any length. Both are answered
        piece by piece; a table while you are still sending it. A bad reading gets its errors
        in its own place and stops nothing. An answer that breaks off is not valid JSON, and
        its transfer ends with an error. The table has a head. Its columns `reading`,
        `temperature`, `instrument`, `calibration`, `scale`, `temperature_compensated`,
        `zero_temperature`, `compensation`, `tds_factor` and `correction` are read; a unit may
        stand in the head, as `reading [SG]`, and then the cells are bare numbers. A table is
        answered as a table unless you ask for another format. Every column comes back as it
        was, with the measures and a column `error` behind it; JSON has the measures alone, one
        item for each row. The trailers `Saltlock-Rows-Good` and `Saltlock-Rows-Bad` of a table
        count the rows. Write the table in UTF-8, or declare `charset=iso-8859-1` or
        `charset=windows-1252`; the answer is always UTF-8. Client authors: read the answer
        while you send, or both sides wait for ever. One client may have 8 of these requests
        open at a time. A few more wait for a moment; beyond that the answer is 429 with
        Retry-After, or 503 where all clients together have too many open.

        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("convert_readings", body,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_calibration(
        self,
        *,
        standard: ReadingText,
        reading: ReadingText,
        standard_temperature: Optional[TemperatureText] = None,
        temperature: Optional[TemperatureText] = None,
        instrument: Optional[InstrumentKind] = None,
        calibration: Optional[ConventionText] = None,
        scale: Optional[RefractometerScale] = None,
        temperature_compensated: Optional[bool] = None,
        zero_temperature: Optional[TemperatureText] = None,
        compensation: Optional[CompensationText] = None,
        tds_factor: Optional[float] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> CalibrationAnswer:
        """What a known standard tells about an instrument.

        The keeper measures a water whose salinity is known (a bottled standard, pure water, a
        weighed mix) and gets the correction of the instrument with its uncertainty, to be sent
        along with later readings as `correction`.

        standard: What the water is known to be.
        reading: What the instrument showed in it, with its unit.
        standard_temperature: Temperature at which the standard is that; 25 °C if not given.
        temperature: Temperature of the water then.
        instrument: The instrument read.
        calibration: The two temperatures a hydrometer is marked for.
        scale: What a refractometer was drawn for; seawater if not given.
        temperature_compensated: Whether a refractometer corrects for temperature itself; true
        if not given.
        zero_temperature: Temperature of the pure water in which a refractometer without
        compensation was set to zero; 20 °C if not given.
        compensation: What a meter does about temperature.
        tds_factor: Factor of a meter that shows dissolved solids; 0.5 and 0.7 are usual.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_calibration",
            standard=standard,
            reading=reading,
            standard_temperature=standard_temperature,
            temperature=temperature,
            instrument=instrument,
            calibration=calibration,
            scale=scale,
            temperature_compensated=temperature_compensated,
            zero_temperature=zero_temperature,
            compensation=compensation,
            tds_factor=tds_factor,
            units=units,
            lang=lang,
            decimal=decimal))

    def list_methods(
        self,
        *,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> MethodsAnswer:
        """Every formula in use.

        Source, range, uncertainty and standing of every formula that an answer may name in
        `methods`.

        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("list_methods",
            units=units,
            lang=lang,
            decimal=decimal))

    def get_blend(
        self,
        *,
        water: list[PortionText],
        target: Optional[ReadingText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> BlendAnswer:
        """What several waters give together.

        Two or more waters poured together: salinity, temperature, volume and alkalinity, by
        conservation of mass, salt, heat and alkalinity. With `target`, one of the waters may
        leave its volume out, and the answer says how much of it is needed.

        water: One water of the blend, repeated for each: volume, salinity, temperature and, if
        known, alkalinity and pH (as 8.1 pH), with commas between.
        target: Salinity the blend shall have; the water without a volume is solved for.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_blend",
            water=water,
            target=target,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_salt_mix(
        self,
        *,
        target: ReadingText,
        volume: Optional[VolumeText] = None,
        temperature: Optional[TemperatureText] = None,
        source: Optional[ReadingText] = None,
        salt_kind: Optional[SaltKind] = None,
        product_water_content: Optional[FractionText] = None,
        calibration_batch_salt: Optional[MassText] = None,
        calibration_batch_water: Optional[VolumeText] = None,
        calibration_batch_reading: Optional[ReadingText] = None,
        shape: Optional[VesselShape] = None,
        length: Optional[LengthText] = None,
        width: Optional[LengthText] = None,
        middle_width: Optional[LengthText] = None,
        height: Optional[LengthText] = None,
        diameter: Optional[LengthText] = None,
        top_diameter: Optional[LengthText] = None,
        bottom_diameter: Optional[LengthText] = None,
        fill_height: Optional[LengthText] = None,
        glass: Optional[LengthText] = None,
        sand_depth: Optional[LengthText] = None,
        sand_porosity: Optional[FractionText] = None,
        rock_mass: Optional[MassText] = None,
        rock_density: Optional[DensityText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SaltMixAnswer:
        """How much salt makes this water.

        The salt and source water that make a volume of water of the target salinity. Where the
        water content of the product is not known the answer takes an anhydrous product, the
        least salt that can be needed, and gives the amount for a fully hydrated mix beside it:
        start with the smaller, dissolve, measure, complete.

        target: The salinity to reach.
        volume: Volume of finished water. Give this or a vessel.
        temperature: Temperature of the finished water; 25 °C if not given.
        source: Salinity of the water the salt goes into; pure water if not given.
        salt_kind: What the salt is. Sodium chloride alone is never planned as sea water.
        product_water_content: Water bound in or held by the product, as a share of its mass.
        calibration_batch_salt: Mass of the product in a trial batch of the keeper's own.
        calibration_batch_water: Pure water that the trial batch was dissolved in.
        calibration_batch_reading: What the trial batch read.
        shape: Shape of the vessel, instead of a volume.
        length: Length of a box or bow front, inner unless glass is given.
        width: Front to back; of a bow front, at its ends.
        middle_width: Front to back of a bow front where the bow stands out most.
        height: Height of the vessel.
        diameter: Diameter of a cylinder.
        top_diameter: Diameter of a bucket at its rim.
        bottom_diameter: Diameter of a bucket at its bottom.
        fill_height: Depth of the water; the full height if not given.
        glass: Thickness of the glass; with it the sizes given are outer sizes.
        sand_depth: Depth of the sand bed.
        sand_porosity: Share of the sand bed that is water; 40 % if not given.
        rock_mass: Mass of rock under water.
        rock_density: Density of the rock; 2700 kg/m3 if not given.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_salt_mix",
            target=target,
            volume=volume,
            temperature=temperature,
            source=source,
            salt_kind=salt_kind,
            product_water_content=product_water_content,
            calibration_batch_salt=calibration_batch_salt,
            calibration_batch_water=calibration_batch_water,
            calibration_batch_reading=calibration_batch_reading,
            shape=shape,
            length=length,
            width=width,
            middle_width=middle_width,
            height=height,
            diameter=diameter,
            top_diameter=top_diameter,
            bottom_diameter=bottom_diameter,
            fill_height=fill_height,
            glass=glass,
            sand_depth=sand_depth,
            sand_porosity=sand_porosity,
            rock_mass=rock_mass,
            rock_density=rock_density,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_top_off(
        self,
        *,
        volume: VolumeText,
        salinity: ReadingText,
        missing: Optional[VolumeText] = None,
        salinity_now: Optional[ReadingText] = None,
        top_off_water: Optional[ReadingText] = None,
        evaporation_per_day: Optional[VolumeText] = None,
        period: Optional[DurationText] = None,
        temperature: Optional[TemperatureText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> TopOffAnswer:
        """What evaporation did and what to pour in.

        Water evaporates, salt stays. From the volume missing, or from the reading now: how
        much fresh water to add; and how the salinity drifts if the tank is topped off with
        other water.

        volume: Net volume of the tank when full.
        salinity: Salinity of the tank when full.
        missing: Volume that has evaporated.
        salinity_now: Salinity now, instead of the volume missing.
        top_off_water: Salinity of the water used to top off; fresh if not given.
        evaporation_per_day: Volume that evaporates in a day.
        period: How long the tank is topped off this way.
        temperature: Temperature of all waters; 25 °C if not given.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_top_off",
            volume=volume,
            salinity=salinity,
            missing=missing,
            salinity_now=salinity_now,
            top_off_water=top_off_water,
            evaporation_per_day=evaporation_per_day,
            period=period,
            temperature=temperature,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_water_change(
        self,
        *,
        volume: VolumeText,
        salinity: ReadingText,
        target: Optional[ReadingText] = None,
        change: Optional[VolumeText] = None,
        new_water: Optional[ReadingText] = None,
        source: Optional[ReadingText] = None,
        temperature: Optional[TemperatureText] = None,
        greatest_change: Optional[SalinityDifferenceText] = None,
        greatest_share: Optional[FractionText] = None,
        product_water_content: Optional[FractionText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> WaterChangeAnswer:
        """What a water change does, or must hold.

        How much to change to reach a salinity, or what the new water must be. With `target`
        and `new_water`: how much to take out and put in, and the steps if one would be too
        much. With `change`: the volume is changed anyway; what salinity and how much salt must
        the new water have to hold the tank, or to reach `target`.

        volume: Net volume of the tank.
        salinity: Salinity of the tank now.
        target: Salinity to reach; without it the tank is held where it is.
        change: Volume that is changed anyway.
        new_water: Salinity of the new water at hand.
        source: Salinity of the water the salt goes into; pure water if not given.
        temperature: Temperature of all waters; 25 °C if not given.
        greatest_change: Most that one step may change the salinity.
        greatest_share: Most of the tank that one step may change.
        product_water_content: Water bound in or held by the product, as a share of its mass.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_water_change",
            volume=volume,
            salinity=salinity,
            target=target,
            change=change,
            new_water=new_water,
            source=source,
            temperature=temperature,
            greatest_change=greatest_change,
            greatest_share=greatest_share,
            product_water_content=product_water_content,
            units=units,
            lang=lang,
            decimal=decimal))

    def list_species(
        self,
        *,
        q: Optional[str] = None,
        group: Optional[SpeciesGroup] = None,
        family: Optional[str] = None,
        lives_at: Optional[ReadingText] = None,
        keeps_with: Optional[list[str]] = None,
        sort: Optional[SpeciesSort] = None,
        limit: Optional[int] = None,
        offset: Optional[int] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SpeciesListAnswer:
        """Find animals and plants.

        Search by common (English, German), scientific or old name, by its initials, in the
        plural or in part, or by a whole question; narrowed by group, family, the water they
        live in, or the company they can join. `match` says how the name was understood: only
        an `exact` one means one species, and text then says what salinity it needs. A name or
        a part of one that several are called by lists them; a misspelled one asks whether you
        mean another; any other is not in the table, and `near` names what comes near. `facets`
        counts what was found.

        q: Any name, or part of one.
        group: Kind of organism.
        family: Scientific family name.
        lives_at: A salinity that some life stage is known to live in.
        keeps_with: A species whose preferred water those found share, by its id or a name of
        its own, repeated for each; a life stage may follow after a colon. A known temperature
        or pH must not stand against it, nor what is known of temper, predation and size.
        sort: Order of the answer; match if not given, which without q is by scientific name.
        limit: Most rows in one answer; 50 if not given.
        offset: Rows to leave out at the start.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("list_species",
            q=q,
            group=group,
            family=family,
            lives_at=lives_at,
            keeps_with=keeps_with,
            sort=sort,
            limit=limit,
            offset=offset,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_compatibility(
        self,
        *,
        species: list[str],
        salinity: Optional[ReadingText] = None,
        temperature: Optional[TemperatureText] = None,
        ph: Optional[PHText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> CompatibilityAnswer:
        """The water several species share.

        First whether temper, predation or numbers forbid the company. Then the salinity,
        temperature and pH that all share at their life stage, survived and preferred, who
        limits each side and by how much, without whom the rest would fit, cautions, and what a
        given water means for each. As a table it is a club's list, a row for each species.

        species: One species by its id, or by a name that no other is called by, repeated for
        each; a life stage and a count may follow, each after a colon.
        salinity: Salinity of a water to judge.
        temperature: Temperature of that water.
        ph: pH of that water.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_compatibility",
            species=species,
            salinity=salinity,
            temperature=temperature,
            ph=ph,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_species(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SpeciesAnswer:
        """One species.

        Ranges by life stage with the source of every value.

        id: The id, made of the scientific name; or a name that no other species is called by.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_species",
            id=id,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_species_growth(
        self,
        *,
        id: str,
        stage: Optional[LifeStage] = None,
        salinity: Optional[ReadingText] = None,
        target: Optional[ReadingText] = None,
        grown_in: Optional[DurationText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> GrowthAnswer:
        """The water of an animal as it grows.

        What it needs now and what later, and the salinity between as a target curve, which
        `home_tank.target_curve` of a transfer plan takes as it stands. When a stage begins no
        source of the table tells: the time is the keeper's, or a default that is told.

        id: The id, made of the scientific name; or a name that no other species is called by.
        stage: Life stage now; if not given the first whose preferred salinity is known, larvae
        aside.
        salinity: Salinity they are in now; the middle of what the stage prefers if not given.
        target: Salinity at the last stage, within what it prefers; the middle of that if not
        given.
        grown_in: Time until the last stage, 1 to 1000 days; a year if not given, a default
        proposed here.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_species_growth",
            id=id,
            stage=stage,
            salinity=salinity,
            target=target,
            grown_in=grown_in,
            units=units,
            lang=lang,
            decimal=decimal))

    def save_transfer(
        self,
        body: TransferRequest,
        *,
        idempotency_key: Optional[str] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Save a transfer, to log readings and have the plan corrected.

        Plans as POST /v1/transfers/plan does and keeps the plan. Without a `start` the first
        drop is taken to fall now, and the answer says so. The answer has the `id`, which opens
        the transfer to whoever knows it, and, this once, the `key` that changes it; the
        service keeps only a hash of the key. A transfer is deleted 30 days after the end of
        its plan or of what was last logged, whichever is later. A body may hold 64 kB.

        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body it stores nothing twice and gets the same answer; with another body it is
        refused. The key of a new transfer is given again for one day, until the transfer is
        first changed, and to a random UUID only: any other text may be another client's by
        chance.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("save_transfer", body,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_transfer_plan(
        self,
        *,
        from_salinity: ReadingText,
        from_temperature: TemperatureText,
        to_salinity: ReadingText,
        to_temperature: TemperatureText,
        from_ph: Optional[PHText] = None,
        from_alkalinity: Optional[AlkalinityText] = None,
        from_tan: Optional[AmmoniaText] = None,
        from_nitrite: Optional[NitriteText] = None,
        from_hours_in_bag: Optional[DurationText] = None,
        to_ph: Optional[PHText] = None,
        to_alkalinity: Optional[AlkalinityText] = None,
        to_tan: Optional[AmmoniaText] = None,
        to_nitrite: Optional[NitriteText] = None,
        room_temperature: Optional[TemperatureText] = None,
        container_capacity: Optional[VolumeText] = None,
        container_freeboard: Optional[VolumeText] = None,
        container_start_volume: Optional[VolumeText] = None,
        container_least_volume: Optional[VolumeText] = None,
        container_aerated: Optional[bool] = None,
        container_heated: Optional[bool] = None,
        container_in_bath: Optional[bool] = None,
        container_overflow: Optional[bool] = None,
        container_waste_capacity: Optional[VolumeText] = None,
        container_shape: Optional[VesselShape] = None,
        container_length: Optional[LengthText] = None,
        container_width: Optional[LengthText] = None,
        container_middle_width: Optional[LengthText] = None,
        container_height: Optional[LengthText] = None,
        container_diameter: Optional[LengthText] = None,
        container_top_diameter: Optional[LengthText] = None,
        container_bottom_diameter: Optional[LengthText] = None,
        line_drop_volume: Optional[VolumeText] = None,
        line_least_drip: Optional[DripRateText] = None,
        line_greatest_drip: Optional[DripRateText] = None,
        line_settings: Optional[int] = None,
        line_tip_diameter: Optional[LengthText] = None,
        line_bore: Optional[LengthText] = None,
        line_length: Optional[LengthText] = None,
        line_head: Optional[LengthText] = None,
        line_outlet_submerged: Optional[bool] = None,
        line_intake_depth: Optional[LengthText] = None,
        source_tank_volume: Optional[VolumeText] = None,
        source_tank_surface: Optional[AreaText] = None,
        home_tank_volume: Optional[VolumeText] = None,
        home_tank_source: Optional[ReadingText] = None,
        home_tank_greatest_share: Optional[FractionText] = None,
        home_tank_evaporation_per_day: Optional[VolumeText] = None,
        home_tank_filter: Optional[bool] = None,
        holding_tanks_volume: Optional[VolumeText] = None,
        holding_tanks_count: Optional[int] = None,
        holding_tanks_source: Optional[ReadingText] = None,
        instrument_kind: Optional[InstrumentKind] = None,
        instrument_calibration: Optional[ConventionText] = None,
        instrument_scale: Optional[RefractometerScale] = None,
        instrument_temperature_compensated: Optional[bool] = None,
        instrument_zero_temperature: Optional[TemperatureText] = None,
        instrument_compensation: Optional[CompensationText] = None,
        instrument_tds_factor: Optional[float] = None,
        instrument_correction: Optional[CorrectionText] = None,
        tolerance: Optional[SalinityDifferenceText] = None,
        limits_at_once: Optional[SalinityDifferenceText] = None,
        limits_per_hour: Optional[SalinityRateText] = None,
        limits_per_24_hours: Optional[SalinityDifferenceText] = None,
        limits_temperature_per_hour: Optional[TemperatureRateText] = None,
        limits_nh3: Optional[AmmoniaText] = None,
        limits_oxygen: Optional[OxygenText] = None,
        recent_change: Optional[SalinityDifferenceText] = None,
        route: Optional[TransferRoute] = None,
        start: Optional[StartText] = None,
        time_zone: Optional[ZoneText] = None,
        visits_every: Optional[DurationText] = None,
        visits_first: Optional[DurationText] = None,
        visits_quiet_from: Optional[ClockText] = None,
        visits_quiet_until: Optional[ClockText] = None,
        to_conditioned: Optional[bool] = None,
        stay: Optional[DurationText] = None,
        prefer: Optional[Preference] = None,
        feed: Optional[Feed] = None,
        species: Optional[str] = None,
        stage: Optional[LifeStage] = None,
        count: Optional[int] = None,
        mass: Optional[MassText] = None,
        length: Optional[LengthText] = None,
        sensitivity: Optional[SensitivityClass] = None,
        origin: Optional[Origin] = None,
        condition: Optional[Condition] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> PlanAnswer:
        """A transfer plan by URL.

        The same plan as the POST of this path, asked by one URL. Each name is the path of the
        field in the posted body with underscores between, and speaks of one kind of animal.
        Nothing is stored.

        from_salinity: Salinity of the water the animals are in.
        from_temperature: Temperature of that water.
        to_salinity: Salinity of the water they go to.
        to_temperature: Temperature of that water.
        from_ph: pH of the water the animals are in, for the ammonia.
        from_alkalinity: Alkalinity of that water, for its pH in air.
        from_tan: Total ammonia of that water.
        from_nitrite: Nitrite of that water, with its basis.
        from_hours_in_bag: Time in a shipping bag, where the water is that of one.
        to_ph: pH of the water they go to.
        to_alkalinity: Alkalinity of that water.
        to_tan: Total ammonia of that water.
        to_nitrite: Nitrite of that water, with its basis. Water with more than 0.2 mg/L N is
        refused.
        room_temperature: Of the air around the container, which it comes towards if neither
        heater nor bath holds it; life support is judged at the warmest of room and waters.
        container_capacity: All the holding container can hold, to the rim.
        container_freeboard: Room left empty under the rim, as a volume; a tenth of the
        capacity if not given.
        container_start_volume: Water in the container at the start.
        container_least_volume: Least water the animals may stand in.
        container_aerated: Whether an air stone stirs the container. Without one a drip is
        refused.
        container_heated: Whether a heater holds the temperature of the container.
        container_in_bath: Whether it stands in water that holds its temperature.
        container_overflow: Whether an overflow keeps the container at its start volume, so
        that nothing is poured off.
        container_waste_capacity: What the bucket under the overflow holds.
        container_shape: Shape of the container, for level marks in centimetres.
        container_length: Inner length.
        container_width: Inner width.
        container_middle_width: Inner width of a bow front where the bow stands out most.
        container_height: Inner height.
        container_diameter: Inner diameter of a cylinder.
        container_top_diameter: Inner diameter of a bucket at the rim.
        container_bottom_diameter: Inner diameter of a bucket at the bottom.
        line_drop_volume: Volume of one drop: count the drops into 10 mL. Where unknown, the
        limits are checked for a large drop.
        line_least_drip: Slowest drip the valve holds.
        line_greatest_drip: Fastest drip that is still drops; 4 drops/s if not given.
        line_settings: Most times the keeper will set the valve, the first included.
        line_tip_diameter: Outer diameter of the end that the drops fall from. Where no drop
        volume is given it follows from this.
        line_bore: Inner diameter of the hose. With length and head, the plan tells how soon a
        failed valve fills the container.
        line_length: Length of the hose, from end to end.
        line_head: Height, at the start, of the surface of the source above the lower end of
        the hose, which hangs free above the water; or above the water of the container, where
        that end is under it.
        line_outlet_submerged: Whether the lower end of the hose is under the water of the
        container, so that its level counts too; false if not given.
        line_intake_depth: Depth, at the start, of the upper end of the hose under the surface
        of the source.
        source_tank_volume: Net volume of the tank the drip is drawn from.
        source_tank_surface: Surface of that tank, for the fall of its level.
        home_tank_volume: Net volume of the tank the animals are in, for a ramp.
        home_tank_source: Salinity of the water that new water is made from.
        home_tank_greatest_share: Most of the tank in one water change.
        home_tank_evaporation_per_day: Volume that evaporates in a day.
        home_tank_filter: Whether a filter must come along.
        holding_tanks_volume: Net volume of one holding tank, for a way in stages.
        holding_tanks_count: How many holding tanks there are; as many as the way takes if not
        given.
        holding_tanks_source: Salinity of the water that theirs is made from.
        instrument_kind: The instrument the keeper will check with.
        instrument_calibration: The two temperatures that instrument is marked for.
        instrument_scale: What a refractometer was drawn for.
        instrument_temperature_compensated: Whether a refractometer corrects for temperature
        itself.
        instrument_zero_temperature: Temperature of the pure water in which a refractometer
        without compensation is set to zero; 20 °C if not given.
        instrument_compensation: What a meter does about temperature.
        instrument_tds_factor: Factor of a meter that shows dissolved solids.
        instrument_correction: Correction that was found for the instrument.
        tolerance: Gap to the new water that may remain at the release.
        limits_at_once: Most the salinity may change in one step.
        limits_per_hour: Fastest the salinity may change.
        limits_per_24_hours: Most the salinity may change in any 24 hours.
        limits_temperature_per_hour: Fastest the temperature may change.
        limits_nh3: Most un-ionized ammonia in the container, as nitrogen.
        limits_oxygen: Least oxygen in the container.
        recent_change: Change of salinity in the 24 hours before the plan.
        route: How to move; `auto` chooses and says why.
        start: Time of the first drop, for a calendar.
        time_zone: Time zone of the clock that quiet hours go by; that of the start if not
        given.
        visits_every: Least time from one visit to the next.
        visits_first: Least time from the start to the first visit; half an hour or the time
        between visits, whichever is less, if not given.
        visits_quiet_from: Nobody comes from this time of day. Needs `start`.
        visits_quiet_until: Until this time of day.
        to_conditioned: Whether chlorine and chloramine are out of the new water.
        stay: How long they pass through the new water; for good if not given.
        prefer: What a drip should take least of. If not given, time, with a quarter of an hour
        counted for each visit.
        feed: What the drip runs from: a jug, filled with one charge at a time, or a hose in
        the tank.
        species: The species by its id, or by a name that no other is called by; it brings its
        sensitivity and the water it may be planned for.
        stage: Life stage of the animals.
        count: How many animals are in the container; with their mass, oxygen and ammonia are
        limits too.
        mass: Mass of one of them.
        length: Total length of one, in place of the mass of a fish of the species table.
        sensitivity: Sensitivity class, from which the limits follow.
        origin: Where the animals come from; unknown means that falling salinity is limited
        like rising.
        condition: How the animals are.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_transfer_plan",
            from_salinity=from_salinity,
            from_temperature=from_temperature,
            to_salinity=to_salinity,
            to_temperature=to_temperature,
            from_ph=from_ph,
            from_alkalinity=from_alkalinity,
            from_tan=from_tan,
            from_nitrite=from_nitrite,
            from_hours_in_bag=from_hours_in_bag,
            to_ph=to_ph,
            to_alkalinity=to_alkalinity,
            to_tan=to_tan,
            to_nitrite=to_nitrite,
            room_temperature=room_temperature,
            container_capacity=container_capacity,
            container_freeboard=container_freeboard,
            container_start_volume=container_start_volume,
            container_least_volume=container_least_volume,
            container_aerated=container_aerated,
            container_heated=container_heated,
            container_in_bath=container_in_bath,
            container_overflow=container_overflow,
            container_waste_capacity=container_waste_capacity,
            container_shape=container_shape,
            container_length=container_length,
            container_width=container_width,
            container_middle_width=container_middle_width,
            container_height=container_height,
            container_diameter=container_diameter,
            container_top_diameter=container_top_diameter,
            container_bottom_diameter=container_bottom_diameter,
            line_drop_volume=line_drop_volume,
            line_least_drip=line_least_drip,
            line_greatest_drip=line_greatest_drip,
            line_settings=line_settings,
            line_tip_diameter=line_tip_diameter,
            line_bore=line_bore,
            line_length=line_length,
            line_head=line_head,
            line_outlet_submerged=line_outlet_submerged,
            line_intake_depth=line_intake_depth,
            source_tank_volume=source_tank_volume,
            source_tank_surface=source_tank_surface,
            home_tank_volume=home_tank_volume,
            home_tank_source=home_tank_source,
            home_tank_greatest_share=home_tank_greatest_share,
            home_tank_evaporation_per_day=home_tank_evaporation_per_day,
            home_tank_filter=home_tank_filter,
            holding_tanks_volume=holding_tanks_volume,
            holding_tanks_count=holding_tanks_count,
            holding_tanks_source=holding_tanks_source,
            instrument_kind=instrument_kind,
            instrument_calibration=instrument_calibration,
            instrument_scale=instrument_scale,
            instrument_temperature_compensated=instrument_temperature_compensated,
            instrument_zero_temperature=instrument_zero_temperature,
            instrument_compensation=instrument_compensation,
            instrument_tds_factor=instrument_tds_factor,
            instrument_correction=instrument_correction,
            tolerance=tolerance,
            limits_at_once=limits_at_once,
            limits_per_hour=limits_per_hour,
            limits_per_24_hours=limits_per_24_hours,
            limits_temperature_per_hour=limits_temperature_per_hour,
            limits_nh3=limits_nh3,
            limits_oxygen=limits_oxygen,
            recent_change=recent_change,
            route=route,
            start=start,
            time_zone=time_zone,
            visits_every=visits_every,
            visits_first=visits_first,
            visits_quiet_from=visits_quiet_from,
            visits_quiet_until=visits_quiet_until,
            to_conditioned=to_conditioned,
            stay=stay,
            prefer=prefer,
            feed=feed,
            species=species,
            stage=stage,
            count=count,
            mass=mass,
            length=length,
            sensitivity=sensitivity,
            origin=origin,
            condition=condition,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def plan_transfer(
        self,
        body: TransferRequest,
        *,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> PlanAnswer:
        """A transfer plan.

        Route, phases, checkpoints and limits for moving animals from one water to another.
        Nothing is stored. A plan that cannot keep its limits is refused with the limit that
        binds and the smallest change that would free it.

        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("plan_transfer", body,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def delete_transfer(
        self,
        *,
        id: str,
        if_match: Optional[str] = None,
    ) -> None:
        """Delete a saved transfer.

        Nothing of it is kept.

        id: The id that was told when the transfer was saved.
        if_match: The ETag of the transfer as last read, in its quotes, or several; refused
        with 412 if it was changed since.
        """
        self.fetch("delete_transfer",
            id=id,
            if_match=if_match)

    def get_transfer(
        self,
        *,
        id: str,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """A saved transfer as it stands.

        The log, what it tells of the container and the drip, and the plan in force, whose
        times count from `plan_start`. The id is enough to read.

        id: The id that was told when the transfer was saved.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_transfer",
            id=id,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def change_transfer(
        self,
        body: TransferChange,
        *,
        id: str,
        if_match: Optional[str] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Change start, note or end of a saved transfer.

        What is left out stays. The start can be moved until the first reading is logged; after
        the end nothing more is logged.

        id: The id that was told when the transfer was saved.
        if_match: The ETag of the transfer as last read, in its quotes, or several; refused
        with 412 if it was changed since.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("change_transfer", body,
            id=id,
            if_match=if_match,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_transfer_calendar(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> None:
        """Visits of a saved transfer as a calendar.

        iCalendar (RFC 5545) of the plan in force; a calendar that subscribes to it follows
        each correction.

        id: The id that was told when the transfer was saved.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        self.fetch("get_transfer_calendar",
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    def get_transfer_chart(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> None:
        """Picture of a saved transfer.

        The plan in force, from `plan_start` on. Also by extension, as
        /v1/transfers/{id}/chart.png.

        id: The id that was told when the transfer was saved.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        self.fetch("get_transfer_chart",
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    def log_event(
        self,
        body: TransferEvent,
        *,
        id: str,
        idempotency_key: Optional[str] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Report what happened, and get the one thing to do first.

        For what goes wrong at the container, in one call: stop the drip, the animals look
        wrong, the power fails or is back, you come late, somebody touched the clamp, or the
        container or the jug was filled up. The answer says in `course.now` the one thing to do
        first. A report is never refused for anything else in it: what cannot be used is left
        out and named in `course.warnings`, also a time that cannot be. Whatever was read can
        come along, as for a reading. No plan is computed for it. After a stop, after animals
        look wrong and after the power failed, the drip counts as closed from that time,
        whatever is read later. The way on is a new plan once they have rested; `course.way_on`
        says when.

        id: The id that was told when the transfer was saved.
        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body it stores nothing twice and gets the same answer; with another body it is
        refused. The key of a new transfer is given again for one day, until the transfer is
        first changed, and to a random UUID only: any other text may be another client's by
        chance.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("log_event", body,
            id=id,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def export_transfer(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> TransferExport:
        """All of a transfer, to keep.

        As JSON the transfer as it stands, as GET answers it, with every leg of its plan that
        is kept; as CSV its log, one entry a row. No key is in either.

        id: The id that was told when the transfer was saved.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("export_transfer",
            id=id,
            units=units,
            lang=lang,
            decimal=decimal))

    def revoke_helper_key(
        self,
        *,
        id: str,
    ) -> None:
        """Revoke the helper's key.

        It opens nothing any more. What was logged with it stays.

        id: The id that was told when the transfer was saved.
        """
        self.fetch("revoke_helper_key",
            id=id)

    def create_helper_key(
        self,
        *,
        id: str,
    ) -> HelperKey:
        """A key for somebody who helps.

        Opens the log of the transfer: readings and events, nothing else. It is given once and
        takes the place of an earlier one, which then opens nothing any more.

        id: The id that was told when the transfer was saved.
        """
        return json.loads(self.fetch("create_helper_key",
            id=id))

    def get_transfer_now(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> TransferNow:
        """What to do now, in three lines.

        The one thing to do, why, and what comes next on the clock of the keeper. As text it
        has exactly three lines, the first of which stands alone in a chat. It follows the
        clock of the service: when a look is overdue it says so.

        id: The id that was told when the transfer was saved.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_transfer_now",
            id=id,
            units=units,
            lang=lang,
            decimal=decimal))

    def log_reading(
        self,
        body: TransferReading,
        *,
        id: str,
        idempotency_key: Optional[str] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Log what was read and seen, and have the plan corrected.

        Weighs the reading with all before it: how fast the drip really runs, where the
        container is, and what to do now. A reading that cannot be right is told and left out.
        If the drip is off the rest is planned anew from where the container is; that plan is
        then in force, and the answer has it. A sign of distress stops the plan and gives half
        a step back, and is never refused for anything else in it. Readings may come in any
        order, as from a phone that was offline. A transfer holds 10000 entries.

        id: The id that was told when the transfer was saved.
        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body it stores nothing twice and gets the same answer; with another body it is
        refused. The key of a new transfer is given again for one day, until the transfer is
        first changed, and to a random UUID only: any other text may be another client's by
        chance.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("log_reading", body,
            id=id,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def restart_transfer(
        self,
        body: TransferReading,
        *,
        id: str,
        idempotency_key: Optional[str] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Go on after a stop, by a new plan from a reading.

        Plans the rest from what is read now, for a transfer that was stopped. Before the
        animals have rested (`course.way_on`) it is refused with the time from which it is not.

        id: The id that was told when the transfer was saved.
        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body it stores nothing twice and gets the same answer; with another body it is
        refused. The key of a new transfer is given again for one day, until the transfer is
        first changed, and to a random UUID only: any other text may be another client's by
        chance.
        curve: Whether the curve of a plan comes with it as JSON. With none the list `curve` is
        empty, and the answer about half as long; nothing else changes.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("restart_transfer", body,
            id=id,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal))

    def get_vessel_volume(
        self,
        *,
        shape: VesselShape,
        length: Optional[LengthText] = None,
        width: Optional[LengthText] = None,
        middle_width: Optional[LengthText] = None,
        height: Optional[LengthText] = None,
        diameter: Optional[LengthText] = None,
        top_diameter: Optional[LengthText] = None,
        bottom_diameter: Optional[LengthText] = None,
        fill_height: Optional[LengthText] = None,
        glass: Optional[LengthText] = None,
        sand_depth: Optional[LengthText] = None,
        sand_porosity: Optional[FractionText] = None,
        rock_mass: Optional[MassText] = None,
        rock_density: Optional[DensityText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> VesselAnswer:
        """How much water a vessel really holds.

        Net volume from shape, fill height, glass, sand bed and rock, and the litres in one
        centimetre of level.

        shape: Shape of the vessel.
        length: Length of a box or bow front, inner unless glass is given.
        width: Front to back; of a bow front, at its ends.
        middle_width: Front to back of a bow front where the bow stands out most.
        height: Height of the vessel.
        diameter: Diameter of a cylinder.
        top_diameter: Diameter of a bucket at its rim.
        bottom_diameter: Diameter of a bucket at its bottom.
        fill_height: Depth of the water; the full height if not given.
        glass: Thickness of the glass; with it the sizes given are outer sizes.
        sand_depth: Depth of the sand bed.
        sand_porosity: Share of the sand bed that is water; 40 % if not given.
        rock_mass: Mass of rock under water.
        rock_density: Density of the rock; 2700 kg/m3 if not given.
        units: Units of text and CSV; both families in text if not given. JSON is always
        metric.
        lang: Language of the sentences, by its BCP 47 tag; English if not given. In German
        amounts are metric and decimals have a comma, unless `units` and `decimal` say
        otherwise. Content-Language says which it is. The names of fields and enums stay as
        they are, and so do the problems of a request that breaks this contract.
        decimal: Decimal mark of the request and of text and CSV.
        """
        return json.loads(self.fetch("get_vessel_volume",
            shape=shape,
            length=length,
            width=width,
            middle_width=middle_width,
            height=height,
            diameter=diameter,
            top_diameter=top_diameter,
            bottom_diameter=bottom_diameter,
            fill_height=fill_height,
            glass=glass,
            sand_depth=sand_depth,
            sand_porosity=sand_porosity,
            rock_mass=rock_mass,
            rock_density=rock_density,
            units=units,
            lang=lang,
            decimal=decimal))

    def text(self, operation: str, body: Any = None, /, **inputs: Any) -> str:
        """The answer in a few short lines for a person."""
        return self.fetch(operation, body, **{**inputs, "format": "text"}).decode().rstrip("\n")

    def number(self, operation: str, only: str, body: Any = None, /, **inputs: Any) -> float:
        """One field of the answer as a bare number, in that field's fixed unit."""
        bare = self.fetch(operation, body, **{**inputs, "format": "text", "only": only, "decimal": "point"})
        return float(bare)

    def url(self, operation: str, /, **inputs: Any) -> str:
        """The URL that asks; with format="png" that of a picture, for a chat or a page."""
        path, names = OPERATIONS[operation].path, OPERATIONS[operation].inputs
        query: list[tuple[str, str]] = []
        for argument, value in inputs.items():
            name = argument if argument in names else argument.removesuffix("_")
            if name not in names:
                near = difflib.get_close_matches(argument, names, 1)
                hint = f"; do you mean {near[0]}?" if near else f"; it takes {', '.join(names)}"
                raise TypeError(f"{operation} takes no {argument}{hint}")
            texts = [_text(v) for v in (value if isinstance(value, (list, tuple)) else [value]) if v is not None]
            if "{" + name + "}" in path:
                path = path.replace("{" + name + "}", urllib.parse.quote("".join(texts), safe=""))
            else:
                query += [(name, text) for text in texts]
        if "{" in path:
            raise TypeError(f"{operation} needs {path[path.index('{') + 1:path.index('}')]}")
        asked = "?" + urllib.parse.urlencode(query, quote_via=urllib.parse.quote) if query else ""
        return self.base_url + path + asked

    def fetch(self, operation: str, body: Any = None, /, **inputs: Any) -> bytes:
        """The answer as it was sent; format= says in which form."""
        how = OPERATIONS[operation]
        carried = {name: inputs.pop(name) for name in how.headers if name in inputs}
        request = urllib.request.Request(self.url(operation, **inputs), method=how.method)
        request.add_header("User-Agent", "saltlock-python/" + VERSION)
        request.add_header("Accept", "*/*, application/problem+json")
        if self.key is not None:
            request.add_header("Authorization", "Bearer " + self.key)
        for name, value in carried.items():
            if value is not None:
                request.add_header(how.headers[name], _text(value))
        if how.method == "POST" and not request.has_header("Idempotency-key"):  # so that nothing is saved twice
            request.add_header("Idempotency-Key", str(uuid.uuid4()))
        if body is not None:
            request.data = json.dumps(body).encode()
            request.add_header("Content-Type", how.media)
        for attempt in itertools.count():
            try:
                with urllib.request.urlopen(request, timeout=self.timeout) as answer:
                    return answer.read()
            except urllib.error.HTTPError as refusal:
                with refusal:
                    problem = _problem(refusal)
                wait = self._pause(request, problem, attempt)
                if wait is None:
                    raise problem from None
            except (OSError, http.client.HTTPException) as error:
                if request.method != "GET" or attempt >= self.retries:
                    raise Unreachable(f"{self.base_url} does not answer: {error}") from error
                wait = _backoff(attempt)
            self._sleep(wait)
        raise AssertionError("unreachable")

    def _pause(self, request: urllib.request.Request, problem: ProblemError, attempt: int) -> Optional[float]:
        """Seconds before the request goes out again; None if it shall not."""
        again = problem.status in (429, 503) or problem.status in (502, 504) and request.method == "GET"
        if not again or attempt >= self.retries:
            return None
        if problem.retry_after is None:
            return _backoff(attempt)
        return problem.retry_after if problem.retry_after <= self.longest_wait else None


def _text(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def _backoff(attempt: int) -> float:
    """Doubles with each attempt; half is left to chance, so that callers do not come back together."""
    most = min(0.5 * 2 ** min(attempt, 5), 10.0)
    return most * (0.5 + random.random() / 2)


def _retry_after(text: Optional[str]) -> Optional[float]:
    """Reads both forms of the header: seconds, or a date of HTTP."""
    if text is None:
        return None
    if re.fullmatch("[0-9]{1,9}", text.strip()):
        return float(text)
    try:
        return max(email.utils.parsedate_to_datetime(text).timestamp() - time.time(), 0.0)
    except ValueError:
        return None


def _problem(answer: urllib.error.HTTPError) -> ProblemError:
    retry_after = _retry_after(answer.headers.get("Retry-After"))
    if answer.headers.get_content_type() == "application/problem+json":
        try:
            return ProblemError(json.loads(answer.read(1 << 20)), retry_after)
        except (ValueError, KeyError, OSError):
            pass  # cut short: the status alone tells what happened
    title = http.client.responses.get(answer.code, "Refused")
    return ProblemError({"title": title, "status": answer.code}, retry_after)


USAGE = """usage: saltlock [--json] [--server URL] QUESTION [NAME=VALUE ...]

  saltlock mixes/salt target="1.010 SG" volume="120 gal"     how much marine salt
  saltlock conversions reading="1.010 SG" temperature=77F    SG to ppt
  saltlock species q=scat

The server is $SALTLOCK_URL, or else http://localhost:8080. Questions:
"""


def _usage() -> str:
    asked = [o for o in OPERATIONS.values() if o.method == "GET"]
    return USAGE + "".join(f"  {o.path.removeprefix('/v1/'):24} {o.summary}\n" for o in asked)


def _question(path: str) -> tuple[str, dict[str, str]]:
    """The operation that answers a path, with what stands in the path itself."""
    path = "/v1/" + path.strip("/").removeprefix("v1/")
    for name, o in sorted(OPERATIONS.items(), key=lambda item: item[1].path.count("{")):
        match = re.fullmatch(re.sub(r"\{(\w+)\}", r"(?P<\1>[^/]+)", o.path), path)
        if o.method == "GET" and match:
            return name, match.groupdict()
    raise LookupError(f"there is no question {path.removeprefix('/v1/')}")


def main(arguments: list[str]) -> int:
    """Answers from a shell: 0 with the answer, 1 with a refusal, 2 with the usage."""
    server, form, words = None, "text", []
    rest = iter(arguments)
    for word in rest:
        if word == "--json":
            form = "json"
        elif word == "--server":
            server = next(rest, None)
        elif word in ("-h", "--help"):
            print(_usage(), end="")
            return 0
        else:
            words.append(word)
    if not words:
        print(_usage(), end="", file=sys.stderr)
        return 2
    try:
        operation, inputs = _question(words[0])
        asked: dict[str, Any] = {"format": form, **inputs}
        for word in words[1:]:
            name, equals, value = word.partition("=")
            if not equals:
                raise LookupError(f"{word}: write it as NAME=VALUE")
            asked[name] = [*asked[name], value] if isinstance(asked.get(name), list) else [value]
        print(Client(server).fetch(operation, **asked).decode().rstrip("\n"))
    except (LookupError, TypeError) as fault:
        print(fault.args[0], file=sys.stderr)
        return 2
    except (ProblemError, Unreachable) as refusal:
        print(refusal, file=sys.stderr)
        return 1
    return 0
