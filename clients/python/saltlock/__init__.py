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
    """A drip that takes less of one thing, and what that costs in the others."""

    # Always false: the plan that was chosen is not among its alternatives.
    chosen: bool
    # Duration, h.
    duration: Duration
    pour_offs: int
    # What it takes less of than the plan.
    prefer: Preference
    settings: int
    # How many times someone must come: to start, set the valve, pour off, refill the jug,
    # close the valve and release.
    visits: int
    # Water drawn from the source.
    water: Volume
    # How it differs from the plan, one sentence for each difference.
    differences: NotRequired[Notes]
    # When the animals can be released, as in `release` of the plan. Missing in plans of
    # earlier releases.
    release: NotRequired[Duration]


# Ammonia as nitrogen, mg/L N.
Ammonia: TypeAlias = 'Quantity'

# An ammonia, with its basis: mg/L N, mg/L NH3, mg/L NH4.
AmmoniaText: TypeAlias = 'str'

# An area: cm2, m2.
AreaText: TypeAlias = 'str'

# How the animals are. Anything but `ok` stops the plan: a sign of distress, or a moult, which
# needs one to two days of rest. `not_feeding` counts as distress from 24 h after the release.
Behaviour: TypeAlias = 'Literal["ok", "loss_of_balance", "gasping", "heavy_mucus", "not_feeding", "moult"]'

class BlendAnswer(TypedDict):
    """The water that several waters make together."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # What was assumed where nothing was given.
    assumptions: Notes
    # What can hurt a person or an animal.
    cautions: Notes
    # Density, kg/m³.
    density: Density
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Mass, kg.
    mass: Mass
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # The answer in a few short lines.
    summary: Summary
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # Volume at the temperature of the blend.
    volume: Volume
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # The waters, in the order of the request.
    waters: list[BlendWater]
    # Alkalinity of the blend, if that of every water is known.
    alkalinity: NotRequired[Alkalinity]
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Estimate of the pH in a closed vessel, if alkalinity and pH of every water are known.
    ph: NotRequired[PH]
    # Estimate of the pH once the blend is in balance with the air.
    ph_in_air: NotRequired[PH]


class BlendWater(TypedDict):
    """One water of a blend."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # Share of the mass of the blend.
    share: Fraction
    # Whether its volume was left out and found here.
    solved: bool
    # Volume at its own temperature.
    volume: Volume


class BoundPH(TypedDict):
    """A bound, and who sets it."""

    # Members that set the bound.
    set_by: list[SpeciesRef]
    # pH on the NBS scale.
    value: PH
    # How much wider the range would be without them.
    by: NotRequired[PH]
    # The bound without them.
    without: NotRequired[PH]


class BoundPractical(TypedDict):
    """A bound, and who sets it."""

    # Members that set the bound.
    set_by: list[SpeciesRef]
    # Practical salinity (PSS-78), ppt.
    value: PracticalSalinity
    # How much wider the range would be without them.
    by: NotRequired[PracticalSalinity]
    # The bound without them.
    without: NotRequired[PracticalSalinity]


class BoundSalinity(TypedDict):
    """A bound, and who sets it."""

    # Members that set the bound.
    set_by: list[SpeciesRef]
    # Absolute salinity, g/kg.
    value: AbsoluteSalinity
    # How much wider the range would be without them.
    by: NotRequired[AbsoluteSalinity]
    # The bound without them.
    without: NotRequired[AbsoluteSalinity]


class BoundTemperature(TypedDict):
    """A bound, and who sets it."""

    # Members that set the bound.
    set_by: list[SpeciesRef]
    # Temperature (ITS-90), °C.
    value: Temperature
    # How much wider the range would be without them.
    by: NotRequired[Quantity]
    # The bound without them.
    without: NotRequired[Temperature]


# An hourly limit that was broken between two readings.
BrokenLimit = TypedDict("BrokenLimit", {
    # Duration, h.
    "from": "Duration",
    # Time to hold without other change, from `until` on.
    "hold": "Duration",
    # Rate of change of absolute salinity, g/kg/h.
    "limit": "SalinityRate",
    # A sentence for people, with its code for programs.
    "note": "Note",
    # Rate of change of absolute salinity, g/kg/h.
    "rate": "SalinityRate",
    # Duration, h.
    "until": "Duration",
})

class CalibrationAnswer(TypedDict):
    """What a known standard shows about an instrument."""

    # Absolute salinity of the standard.
    absolute_salinity: AbsoluteSalinity
    assumptions: Notes
    # Correction of an instrument: a factor such as 1.02(1), or an amount to add, with its
    # unit, such as -0.0012(5) SG.
    correction: CorrectionText
    # What the instrument should have shown.
    expected: ReadingValue
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines.
    summary: Summary
    warnings: Notes
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Salinity shown minus salinity of the standard.
    error: NotRequired[AbsoluteSalinity]


class Change(TypedDict):
    """A field of the request and the value to give it."""

    # The value, as a query takes it. In a body, write a count, true and false without quotes;
    # an empty text means: remove the field.
    value: str
    # Name of the query parameter, or JSON pointer into the body.
    where: str


class ChangeStep(TypedDict):
    """One water change."""

    # Absolute salinity of the tank after this step.
    absolute_salinity: AbsoluteSalinity
    # One salinity on both scales.
    new_water_salinity: SalinityPair
    # Practical salinity of the tank after this step.
    practical_salinity: PracticalSalinity
    # Volume, L.
    put_in: Volume
    # Volume, L.
    take_out: Volume


class ChangeSurvived(TypedDict):
    """The largest change of salinity that a laboratory saw survived."""

    basis: str
    # Absolute salinity, g/kg.
    change: AbsoluteSalinity
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class Charge(TypedDict):
    """One filling of the jug that feeds the drip."""

    # Change of salinity if all of it runs in at once.
    change: AbsoluteSalinity
    # When to fill the jug, which is empty by then.
    time: Duration
    # Volume, L.
    volume: Volume


class CheaperRamp(TypedDict):
    """A ramp that takes longer, but less salt, less water or fewer changes."""

    # Number of water changes.
    changes: int
    # Days from the first day to the last change.
    days: int
    # Its water changes.
    phases: list[Phase]
    # Anhydrous salt in all.
    salt: Mass
    # New water in all.
    water: Volume


class Checkpoint(TypedDict):
    """When to look, and what you should see."""

    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # Duration, h.
    time: Duration
    # A sentence for people, with its code for programs.
    why: Note
    # Length, cm.
    level: NotRequired[Length]
    # What your instrument should show, at that temperature.
    reading: NotRequired[ReadingValue]
    # Volume, L.
    volume: NotRequired[Volume]


# Chlorinity, g/kg Cl.
Chlorinity: TypeAlias = 'Quantity'

class ClassLimits(TypedDict):
    """Default limits of the sensitivity class, for an animal of unknown origin. Proposed here, not measured by anybody."""

    # Towards fresh water.
    down: DirectionLimits
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: Mark
    # Limits for changing the water of the tank the animal lives in.
    ramp: RampLimits
    # Towards saltier water.
    up: DirectionLimits


# A time of day from 00:00 to 23:59.
ClockText: TypeAlias = 'str'

class CommonPH(TypedDict):
    """A shared range, and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Pairs that no water suits, the widest difference first.
    conflicts: NotRequired[list[ConflictPH]]
    # A bound, and who sets it.
    lower: NotRequired[BoundPH]
    # Members whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Members whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound, and who sets it.
    upper: NotRequired[BoundPH]


class CommonPractical(TypedDict):
    """A shared range, and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Pairs that no water suits, the widest difference first.
    conflicts: NotRequired[list[ConflictPractical]]
    # A bound, and who sets it.
    lower: NotRequired[BoundPractical]
    # Members whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Members whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound, and who sets it.
    upper: NotRequired[BoundPractical]


class CommonSalinity(TypedDict):
    """A shared range, and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Pairs that no water suits, the widest difference first.
    conflicts: NotRequired[list[ConflictSalinity]]
    # A bound, and who sets it.
    lower: NotRequired[BoundSalinity]
    # Members whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Members whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound, and who sets it.
    upper: NotRequired[BoundSalinity]


class CommonTemperature(TypedDict):
    """A shared range, and who limits it."""

    # Whether some water suits everybody.
    status: SharedStatus
    # Pairs that no water suits, the widest difference first.
    conflicts: NotRequired[list[ConflictTemperature]]
    # A bound, and who sets it.
    lower: NotRequired[BoundTemperature]
    # Members whose lower bound no source gives.
    unknown_lower: NotRequired[list[SpeciesRef]]
    # Members whose upper bound no source gives.
    unknown_upper: NotRequired[list[SpeciesRef]]
    # A bound, and who sets it.
    upper: NotRequired[BoundTemperature]


class CompatibilityAnswer(TypedDict):
    """The water several species share."""

    # Cautions about this company; those about one species are with that species.
    cautions: Notes
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # What the comparison found for each member.
    members: list[CompatibilityMember]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    notes: Notes
    # Range in which sources found or keep all of them; no other is known.
    ph: CommonPH
    # Range that all prefer.
    preferred_range: CommonPractical
    # The numbers of `preferred_range`, as g/kg.
    preferred_salinity: CommonSalinity
    # The numbers of `usable_range`, as g/kg.
    salinity: CommonSalinity
    # Whether some water suits everybody.
    status: SharedStatus
    # The answer in a few short lines.
    summary: Summary
    # Range that all are known to survive. Do not keep them there.
    survived_range: CommonPractical
    # The numbers of `survived_range`, as g/kg.
    survived_salinity: CommonSalinity
    # Range in which sources found or keep all of them; no other is known.
    temperature: CommonTemperature
    # What temper, predation and numbers mean for the company; they decide before the water
    # does. Common practice. What is not known is not listed, which does not make it safe.
    together: Together
    # Range that all may be planned for.
    usable_range: CommonPractical
    # Take out any one of these, and the rest share a water.
    leave_out: NotRequired[list[Leaving]]
    # Take out any one of these, and the rest share a salinity that all prefer.
    leave_out_preferred: NotRequired[list[Leaving]]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]
    # Worst verdict on the given water.
    verdict: NotRequired[Verdict]


class CompatibilityMember(TypedDict):
    """What the comparison found for one member."""

    # Cautions about the species, in any company.
    cautions: Notes
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    confidence: Mark
    id: str
    name: str
    scientific_name: str
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # How many; missing if not given.
    count: NotRequired[int]
    # What the given water means for it.
    judgement: NotRequired[Judgement]
    # Whether the operator of this service added it.
    local: NotRequired[bool]
    # Largest length on record.
    max_length: NotRequired[GreatestLength]
    # Known bounds of pH with their source.
    ph: NotRequired[SourcedPHBand]
    # Known bounds of salinity on the practical scale, with their source. A value within half
    # of the last digit past a bound still counts as inside.
    preferred_range: NotRequired[SourcedPracticalBand]
    # The numbers of `preferred_range`, as g/kg.
    preferred_salinity: NotRequired[SourcedSalinityBand]
    # The numbers of `survived_range`, as g/kg.
    salinity: NotRequired[SourcedSalinityBand]
    # Range that it was seen or is said to survive. Do not keep it there.
    survived_range: NotRequired[SourcedPracticalBand]
    # Known bounds of temperature with their source.
    temperature: NotRequired[SourcedTemperatureBand]


# How a meter compensates for temperature: none, nlf (ISO 7888), or a coefficient such as 1.91
# %/C. Add at 20C if its display refers to 20 °C.
CompensationText: TypeAlias = 'str'

Condition: TypeAlias = 'Literal["well", "thin", "sick", "medicated", "just_shipped", "moulting"]'

# Electrical conductivity, mS/cm.
Conductivity: TypeAlias = 'Quantity'

class ConflictPH(TypedDict):
    """Two members that no water suits."""

    # pH on the NBS scale.
    at_least: PH
    # pH on the NBS scale.
    at_most: PH
    # pH on the NBS scale.
    gap: PH
    # The one that needs more.
    higher: SpeciesRef
    # The one that takes less.
    lower: SpeciesRef
    # False if one of the bounds is only a preference.
    proven: bool


class ConflictPractical(TypedDict):
    """Two members that no water suits."""

    # Practical salinity (PSS-78), ppt.
    at_least: PracticalSalinity
    # Practical salinity (PSS-78), ppt.
    at_most: PracticalSalinity
    # Practical salinity (PSS-78), ppt.
    gap: PracticalSalinity
    # The one that needs more.
    higher: SpeciesRef
    # The one that takes less.
    lower: SpeciesRef
    # False if one of the bounds is only a preference.
    proven: bool


class ConflictSalinity(TypedDict):
    """Two members that no water suits."""

    # Absolute salinity, g/kg.
    at_least: AbsoluteSalinity
    # Absolute salinity, g/kg.
    at_most: AbsoluteSalinity
    # Absolute salinity, g/kg.
    gap: AbsoluteSalinity
    # The one that needs more.
    higher: SpeciesRef
    # The one that takes less.
    lower: SpeciesRef
    # False if one of the bounds is only a preference.
    proven: bool


class ConflictTemperature(TypedDict):
    """Two members that no water suits."""

    # Temperature (ITS-90), °C.
    at_least: Temperature
    # Temperature (ITS-90), °C.
    at_most: Temperature
    # A value in a fixed unit, with its standard uncertainty (k = 1) if known.
    gap: Quantity
    # The one that needs more.
    higher: SpeciesRef
    # The one that takes less.
    lower: SpeciesRef
    # False if one of the bounds is only a preference.
    proven: bool


class Conservation(TypedDict):
    """How the species was listed in a year. What counts is the law where you are, on the day."""

    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: Mark
    year: int
    cites: NotRequired[str]
    iucn: NotRequired[str]
    # Where a value was found.
    source: NotRequired[Source]


class ConventionGravity(TypedDict):
    """Specific gravity at one pair of temperatures."""

    convention: str
    # Specific gravity, SG.
    value: SpecificGravity


# The two temperatures of a specific gravity, sample over pure water.
ConventionText: TypeAlias = 'str'

class Conversion(TypedDict):
    """One water on every measure. A measure outside its formula's range is left out."""

    # What was assumed where nothing was given.
    assumptions: Notes
    # What was corrected, and by how much.
    corrections: Notes
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    # Specific gravity at each pair of temperatures in use.
    specific_gravity: list[ConventionGravity]
    # Temperature of the sample.
    temperature: Temperature
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # Zone of the Venice system (1958).
    zone: Zone
    # Absolute salinity, g/kg.
    absolute_salinity: NotRequired[AbsoluteSalinity]
    # Chlorinity, g/kg Cl.
    chlorinity: NotRequired[Chlorinity]
    # Conductivity at the temperature of the sample.
    conductivity: NotRequired[Conductivity]
    # Conductivity of the same water at 25 °C.
    conductivity_25: NotRequired[Conductivity]
    # Density, kg/m³.
    density: NotRequired[Density]
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Temperature (ITS-90), °C.
    freezing_point: NotRequired[Temperature]
    # Every water that such a reading can mean, beginning with the one used. Left out if `only`
    # asks for one field.
    interpretations: NotRequired[list[Interpretation]]
    # Osmolality, mOsm/kg.
    osmolality: NotRequired[Osmolality]
    # Dissolved oxygen in balance with moist air at one atmosphere.
    oxygen_saturation: NotRequired[DissolvedOxygen]
    # Practical salinity (PSS-78), ppt.
    practical_salinity: NotRequired[PracticalSalinity]
    # How the reading was understood, if it can mean more than one water. All measures, CSV and
    # `only` follow this.
    read_as: NotRequired[ReadAs]
    # Refractive index at 589.3 nm relative to air, nD.
    refractive_index: NotRequired[RefractiveIndex]
    # Sea salt per litre of water at the stated temperature, g/L.
    salt_per_litre: NotRequired[SaltPerLitre]


class ConversionAnswer(TypedDict):
    """One water on every measure. A measure outside its formula's range is left out."""

    # What was assumed where nothing was given.
    assumptions: Notes
    # What was corrected, and by how much.
    corrections: Notes
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Specific gravity at each pair of temperatures in use.
    specific_gravity: list[ConventionGravity]
    # The answer in a few short lines.
    summary: Summary
    # Temperature of the sample.
    temperature: Temperature
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # Zone of the Venice system (1958).
    zone: Zone
    # Absolute salinity, g/kg.
    absolute_salinity: NotRequired[AbsoluteSalinity]
    # Chlorinity, g/kg Cl.
    chlorinity: NotRequired[Chlorinity]
    # Conductivity at the temperature of the sample.
    conductivity: NotRequired[Conductivity]
    # Conductivity of the same water at 25 °C.
    conductivity_25: NotRequired[Conductivity]
    # Density, kg/m³.
    density: NotRequired[Density]
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Temperature (ITS-90), °C.
    freezing_point: NotRequired[Temperature]
    # Every water that such a reading can mean, beginning with the one used. Left out if `only`
    # asks for one field.
    interpretations: NotRequired[list[Interpretation]]
    # Osmolality, mOsm/kg.
    osmolality: NotRequired[Osmolality]
    # Dissolved oxygen in balance with moist air at one atmosphere.
    oxygen_saturation: NotRequired[DissolvedOxygen]
    # Practical salinity (PSS-78), ppt.
    practical_salinity: NotRequired[PracticalSalinity]
    # How the reading was understood, if it can mean more than one water. All measures, CSV and
    # `only` follow this.
    read_as: NotRequired[ReadAs]
    # Refractive index at 589.3 nm relative to air, nD.
    refractive_index: NotRequired[RefractiveIndex]
    # Sea salt per litre of water at the stated temperature, g/L.
    salt_per_litre: NotRequired[SaltPerLitre]
    # What this water means for the species asked about.
    suits: NotRequired[SpeciesJudgement]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]


class ConversionItem(TypedDict):
    """One reading and how it was taken."""

    # A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
    reading: ReadingText
    # The two temperatures of a specific gravity, sample over pure water.
    calibration: NotRequired[ConventionText]
    # How a meter compensates for temperature: none, nlf (ISO 7888), or a coefficient such as
    # 1.91 %/C. Add at 20C if its display refers to 20 °C.
    compensation: NotRequired[CompensationText]
    # Correction of an instrument: a factor such as 1.02(1), or an amount to add, with its
    # unit, such as -0.0012(5) SG.
    correction: NotRequired[CorrectionText]
    # A glass hydrometer, a plastic box with a swinging pointer, a refractometer, a
    # conductivity meter, or a meter that multiplies conductivity by a factor to show dissolved
    # solids.
    instrument: NotRequired[InstrumentKind]
    # What the scale of a refractometer is for.
    scale: NotRequired[RefractometerScale]
    tds_factor: NotRequired[float]
    # A temperature: C or F.
    temperature: NotRequired[TemperatureText]
    temperature_compensated: NotRequired[bool]
    # A temperature: C or F.
    zero_temperature: NotRequired[TemperatureText]


class ConversionOutcome(TypedDict):
    """One conversion, or what is wrong with the reading."""

    # One water on every measure. A measure outside its formula's range is left out.
    conversion: NotRequired[Conversion]
    errors: NotRequired[list[Fault]]


class ConversionsAnswer(TypedDict):
    """Many conversions."""

    # Readings with errors.
    bad: int
    # Readings converted.
    good: int
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # One for each reading, in order. A list has up to 10 000, a table any number.
    items: list[ConversionOutcome]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines.
    summary: Summary


# Correction of an instrument: a factor such as 1.02(1), or an amount to add, with its unit,
# such as -0.0012(5) SG.
CorrectionText: TypeAlias = 'str'

class Course(TypedDict):
    """What the log shows."""

    assumptions: Notes
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    # What to do now.
    now: Note
    # Every number in the log, and what it should have been.
    readings: list[JudgedReading]
    # `paused`: the clamp is closed until the next reading. `ended`: finished.
    verdict: Literal["not_begun", "on_course", "corrected", "arrived", "stopped", "no_way_on", "paused", "ended"]
    warnings: Notes
    # Where the salinity changed faster than the hourly limit between two readings, latest
    # first.
    broken: NotRequired[list[BrokenLimit]]
    # Real drip rate; the planned one if nobody counted drops.
    drip: NotRequired[DripRate]
    # Real flow divided by planned flow. Left out, with `flow` and `drip`, while the clamp is
    # closed or water poured in at once hides it.
    drip_ratio: NotRequired[Fraction]
    # Volume of one drop, as the readings show it.
    drop_volume: NotRequired[Volume]
    # Real flow.
    flow: NotRequired[Flow]
    # What happened without a report, listed once two readings show it.
    found: NotRequired[list[FoundChange]]
    # Difference from the new water.
    gap: NotRequired[AbsoluteSalinity]
    # Length, cm.
    level: NotRequired[Length]
    # Drip rate, drops/s.
    planned_drip: NotRequired[DripRate]
    # Volume flow, mL/min.
    planned_flow: NotRequired[Flow]
    # Salinity in the container at that time.
    practical_salinity: NotRequired[PracticalSalinity]
    # Half a step back towards the water the animals came from: half of what one step may be,
    # in the stricter direction.
    step_back: NotRequired[StepBack]
    # What to do after that, in order.
    then: NotRequired[Notes]
    # Time of the latest entry, from the first drop.
    time: NotRequired[Duration]
    # Volume, L.
    volume: NotRequired[Volume]
    # How to go on after a stop.
    way_on: NotRequired[WayOn]
    # Reasons for it, the most important first.
    why: NotRequired[Notes]


class CurvePoint(TypedDict):
    """The water at one time."""

    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # Duration, h.
    time: Duration
    # Volume, L.
    volume: Volume
    # Un-ionized ammonia at the likely use.
    nh3: NotRequired[Ammonia]
    # Dissolved oxygen at the likely use, if oxygen and ammonia are planned.
    oxygen: NotRequired[DissolvedOxygen]
    # Total ammonia at the likely use.
    tan: NotRequired[Ammonia]


# Density, kg/m³.
Density: TypeAlias = 'Quantity'

# A density: kg/m3.
DensityText: TypeAlias = 'str'

class DirectionLimits(TypedDict):
    """Limits for moving the animal."""

    # Absolute salinity, g/kg.
    at_once: AbsoluteSalinity
    # Absolute salinity, g/kg.
    per_24_hours: AbsoluteSalinity
    # A value in a fixed unit, with its standard uncertainty (k = 1) if known.
    per_hour: Quantity


# Dissolved oxygen, mg/L.
DissolvedOxygen: TypeAlias = 'Quantity'

class Dominant(TypedDict):
    """The input that contributes most to the uncertainty."""

    input: str
    # Its share of the variance.
    share: float


class Draw(TypedDict):
    """What the drip takes from its source, and what replaces it."""

    # Volume, L.
    pure_water: Volume
    # Anhydrous salt for the pure water that replaces it.
    replacement_salt: Mass
    # Volume, L.
    volume: Volume
    # How much to put into the jug, and when, if a jug feeds the drip. Each charge is so small
    # that all of it at once changes the salinity no more than one step may.
    charges: NotRequired[list[Charge]]
    # How the drip changes over each phase while nobody touches the valve. Given if the head
    # and the level of source or container are known.
    drifts: NotRequired[list[Drift]]
    # What a valve that sticks open does at the worst moment of the plan. The flow is assumed
    # to stay as at the start, so the real times are longer.
    failure: NotRequired[Failure]
    # What feeds the drip. `jug`: a jug that you fill with one charge at a time, so that a
    # stuck valve can do little harm. `tank`: a hose that hangs in the tank. If not given:
    # `tank` if `source_tank.surface`, `line.head` or `line.intake_depth` describes such a
    # hose, otherwise `jug`.
    feed: NotRequired[Feed]
    # Where the end of the hose must hang in the source in each run of the drip, so that a
    # failed valve cannot flood the floor. Given if the surface of the source is known.
    intakes: NotRequired[list[Intake]]
    # How far the level of the source tank falls if nothing replaces the water.
    level_drop: NotRequired[Length]
    # What a failed valve lets through, if the hose is described.
    open_line: NotRequired[OpenLine]
    # Water that runs over, if the container has an overflow.
    waste: NotRequired[Volume]


class Drift(TypedDict):
    """How a drip changes over one phase. Through a clamp the flow is proportional to the head, through a sharp orifice to its square root; a valve lies between. Shares are of the drip as last set."""

    # Greatest share of the drip at the start; 1 if the valve is set then.
    at_start: Fraction
    # Share or ratio, without a dimension; the unit is 1.
    greatest_at_end: Fraction
    # Head at the start of the phase.
    head: Length
    # Length, cm.
    head_at_end: Length
    # Share or ratio, without a dimension; the unit is 1.
    least_at_end: Fraction
    # Start of the phase.
    time: Duration


# Drip rate, drops/s.
DripRate: TypeAlias = 'Quantity'

# A drip rate: drops/s.
DripRateText: TypeAlias = 'str'

# Duration, h.
Duration: TypeAlias = 'Quantity'

# A duration: h, min, days.
DurationText: TypeAlias = 'str'

class Facet(TypedDict):
    """A value, and how many species have it."""

    count: int
    value: str


class Failure(TypedDict):
    """What a valve that sticks open does at the worst moment of the plan. The flow is assumed to stay as at the start, so the real times are longer."""

    # Flow through the open line: the hose described, or an assumed one.
    flow: Flow
    # How fast the salinity changes at first.
    rate: SalinityRate
    # Salinity at the end, when the jug is empty, the siphon breaks or the tank is empty.
    salinity: PracticalSalinity
    # Water that runs over the rim. Left out if the volume of the tank is not given.
    floor: NotRequired[Volume]
    # Time until the salinity has changed as much as one step may. Left out if it never does.
    time_to_at_once: NotRequired[Duration]


class Fault(TypedDict):
    """Fault."""

    # What was given, what is allowed and what to do.
    reason: str
    # Short name of the broken rule, for programs.
    rule: str
    # Name of the query parameter, or JSON pointer into the body.
    where: str
    # Species that the name may mean, if the name is unclear.
    candidates: NotRequired[list[NameCandidate]]
    # Changes to the request that, made together, get you further. For a refused plan the
    # planner makes the offers; the first has been tried and leads to a plan.
    offer: NotRequired[list[Change]]


# What feeds the drip. `jug`: a jug that you fill with one charge at a time, so that a stuck
# valve can do little harm. `tank`: a hose that hangs in the tank. If not given: `tank` if
# `source_tank.surface`, `line.head` or `line.intake_depth` describes such a hose, otherwise
# `jug`.
Feed: TypeAlias = 'Literal["jug", "tank"]'

# The one field that `only=` asked for: a quantity, or a salinity on both scales.
FieldAnswer: TypeAlias = 'Union[Quantity, SalinityPair]'

# Volume flow, mL/min.
Flow: TypeAlias = 'Quantity'

class FoundChange(TypedDict):
    """A change that the readings show, and the evidence for it."""

    # A sentence for people, with its code for programs.
    evidence: Note
    kind: Literal["slip", "clog", "leak", "poured_off", "filled_up", "wrong_instrument", "wrong_time"]
    # Earliest time it can have happened, from the first drop.
    since: Duration


# Share or ratio, without a dimension; the unit is 1.
Fraction: TypeAlias = 'Quantity'

# A share: 15 % or 0.15.
FractionText: TypeAlias = 'str'

class GreatestLength(TypedDict):
    """Largest length on record."""

    # Length, cm.
    length: Length
    length_type: str
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class GrowthAnswer(TypedDict):
    """The salinity of an animal's water as it grows."""

    id: str
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    name: str
    notes: Notes
    # Salinity by life stage; the first point is now.
    path: list[GrowthPoint]
    scientific_name: str
    # Life stage now.
    stage: LifeStage
    # The answer in a few short lines.
    summary: Summary
    # The path in the form that `home_tank.target_curve` of a transfer plan takes.
    target_curve: list[TransferTargetPoint]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]


class GrowthPoint(TypedDict):
    """The water at the start of a life stage."""

    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Known bounds of salinity on the practical scale, with their source. A value within half
    # of the last digit past a bound still counts as inside.
    preferred_range: SourcedPracticalBand
    # The numbers of `preferred_range`, as g/kg.
    preferred_salinity: SourcedSalinityBand
    # Absolute salinity, g/kg.
    salinity: AbsoluteSalinity
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # Duration, h.
    time: Duration


class HelperKey(TypedDict):
    """A key that opens the log of one transfer."""

    # Send it as Authorization: Bearer KEY.
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


# The request with defaults filled in, as strings that you can send again.
Inputs: TypeAlias = 'dict[str, Any]'

# A glass hydrometer, a plastic box with a swinging pointer, a refractometer, a conductivity
# meter, or a meter that multiplies conductivity by a factor to show dissolved solids.
InstrumentKind: TypeAlias = 'Literal["none", "hydrometer", "pointer_hydrometer", "refractometer", "conductivity", "tds"]'

class Intake(TypedDict):
    """How deep the end of the hose hangs below the source's surface when a run of the drip starts. Valid for upright walls and a source that nothing refills."""

    # Depth to use: where it hangs already, if that will do, otherwise midway between the two.
    depth: Length
    # Greatest depth. Any more lets a failed valve overflow the container, or is below the
    # bottom of the source.
    greatest: Length
    # Least depth. Any less, and the end comes out of the water before the run ends.
    least: Length
    # Start of the run.
    time: Duration


class Interpretation(TypedDict):
    """One water that a reading can mean."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # A specific gravity at its two temperatures, or one read on a glass hydrometer marked for
    # 60 °F. A conductivity of the water as it is, or as a pen shows it for 25 °C. Dissolved
    # solids, which are a conductivity multiplied by the factor of the pen.
    read_as: ReadAs
    # The two temperatures of the specific gravity.
    convention: NotRequired[str]
    # Factor of the pen.
    tds_factor: NotRequired[float]


class JudgedReading(TypedDict):
    """One number of the log, compared with what all the others say."""

    # Difference from what was expected, in standard deviations.
    deviation: float
    # Number of its entry in the log.
    entry: int
    # A value in a fixed unit, with its standard uncertainty (k = 1) if known.
    expected: Quantity
    # Value read, with the uncertainty used to weigh it; a salinity in g/kg.
    read: Quantity
    # Whether it is off by more than 3.5 standard deviations and so left out.
    suspect: bool
    # Time from the first drop.
    time: Duration
    what: Literal["salinity", "volume", "level", "drops"]
    # What may be wrong with it.
    why: NotRequired[Note]


class Judgement(TypedDict):
    """What a water means for one life stage."""

    reasons: Notes
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    verdict: Verdict
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    ph: NotRequired[Verdict]
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    salinity: NotRequired[Verdict]
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    temperature: NotRequired[Verdict]


class Leaving(TypedDict):
    """A member without which the rest share a range, or may share one."""

    id: str
    name: str
    stage: LifeStage
    # Whether the rest share a water.
    status: SharedStatus
    # The number of `range.min`, as g/kg.
    lower: NotRequired[AbsoluteSalinity]
    # Range that the rest share; missing if a bound is.
    range: NotRequired[PracticalBand]
    # The number of `range.max`, as g/kg.
    upper: NotRequired[AbsoluteSalinity]


# Length, cm.
Length: TypeAlias = 'Quantity'

# A length: cm, mm, m, in, ft.
LengthText: TypeAlias = 'str'

LifeStage: TypeAlias = 'Literal["larva", "fry", "juvenile", "smolt", "adult", "all"]'

class LifeSupport(TypedDict):
    """What the animals do to the water they are held in. Species differ, so the greatest use is twice the likely one; the limits hold at the greatest."""

    # How many animals the limits allow, as a multiple of those given.
    most_animals: Fraction
    # Highest un-ionized ammonia, at the likely use.
    nh3: Ammonia
    # Ammonia as nitrogen, mg/L N.
    nh3_at_greatest_use: Ammonia
    # Lowest oxygen, at the likely use.
    oxygen: DissolvedOxygen
    # Dissolved oxygen, mg/L.
    oxygen_at_greatest_use: DissolvedOxygen
    # pH it is judged at: the highest of both waters, as they are and in air.
    ph: PH
    # Temperature it is judged at: the warmest of waters and room.
    temperature: Temperature
    # Time until oxygen falls to 3 mg/L, where fish gasp, if air stone and drip stop at the
    # worst moment, at the greatest use. One day means a day or more.
    without_air: Duration


# How well founded a value is: read in a public copy of the source; follows from a definition;
# a custom of the trade, without a source; recalled from memory; or a default proposed here.
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

    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # The formulas.
    items: list[Method]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines.
    summary: Summary


class Model(TypedDict):
    """Model."""

    # Version of the species table.
    data_version: str
    # Version of the formulas.
    version: str


class NameCandidate(TypedDict):
    """A species that a name may mean."""

    # The name of this species that comes near.
    by: str
    id: str
    # Its usual name.
    name: str
    scientific_name: str


class NameMatch(TypedDict):
    """How a name was understood; missing if none was asked for. Act only on `exact`."""

    # The name looked for, without the words of a question.
    asked: str
    # Species that it may mean: one if exact, none if it is not in the table.
    candidates: list[NameCandidate]
    # `exact`: a name of one species and of no other. `several`: a name, or part of one, that
    # several species share. `spelling`: close to the spelling of a name. `none`: in no name of
    # the table.
    outcome: NameOutcome


# `exact`: a name of one species and of no other. `several`: a name, or part of one, that
# several species share. `spelling`: close to the spelling of a name. `none`: in no name of the
# table.
NameOutcome: TypeAlias = 'Literal["exact", "several", "spelling", "none"]'

class NearMiss(TypedDict):
    """A species whose name comes near."""

    id: str
    name: str


# A nitrite, with its basis: mg/L N, mg/L NO2.
NitriteText: TypeAlias = 'str'

class Note(TypedDict):
    """A sentence for people, with its code for programs."""

    code: str
    text: str


Notes: TypeAlias = 'list[Note]'

class OpenLine(TypedDict):
    """What runs through the hose if the valve fails or is left open. The plan assumes that the head does not fall, so the real times are longer."""

    # Flow under the greatest head of the plan.
    flow: Flow
    # Flow regime.
    regime: Literal["laminar", "transitional", "turbulent"]
    # The same from the greatest volume that the plan has in the container.
    least_time_to_rim: NotRequired[Duration]
    # Time from the start volume until the container is full to the rim. Left out if the source
    # first runs empty or falls to the end of the hose.
    time_to_rim: NotRequired[Duration]


Origin: TypeAlias = 'Literal["captive", "wild", "unknown"]'

# Osmolality, mOsm/kg.
Osmolality: TypeAlias = 'Quantity'

# Dissolved oxygen: mg/L.
OxygenText: TypeAlias = 'str'

# pH on the NBS scale.
PH: TypeAlias = 'Quantity'

# A pH on the NBS scale.
PHText: TypeAlias = 'str'

class Phase(TypedDict):
    """One thing to do, or to let run."""

    # Duration, h.
    duration: Duration
    # Practical salinity (PSS-78), ppt.
    from_salinity: PracticalSalinity
    # A sentence for people, with its code for programs.
    instruction: Note
    kind: Literal["prepare", "move", "fill", "run_over", "cups", "pour_off", "rest", "release", "water_change", "hold"]
    # Whether to set the valve again.
    set_valve: bool
    # Duration, h.
    start: Duration
    # Practical salinity (PSS-78), ppt.
    to_salinity: PracticalSalinity
    # Volume of one cup.
    cup: NotRequired[Volume]
    # How many measured cups to pour in, each over one minute.
    cups: NotRequired[int]
    # Drip rate, drops/s.
    drip: NotRequired[DripRate]
    # Time from one cup to the next.
    every: NotRequired[Duration]
    # Volume flow, mL/min.
    flow: NotRequired[Flow]
    # Length, cm.
    from_level: NotRequired[Length]
    # Level it begins at, in parts of the water they start in, if that volume is unknown: 1 is
    # the starting mark.
    from_part: NotRequired[Fraction]
    # Volume, L.
    from_volume: NotRequired[Volume]
    # Salinity of the water to put in.
    new_water: NotRequired[PracticalSalinity]
    # Water to put in, back to the same level.
    put_in: NotRequired[Volume]
    # Anhydrous salt for the new water, rounded to what a kitchen scale shows: 1 g below 1 kg,
    # otherwise 10 g.
    salt: NotRequired[Mass]
    # Source water to make the new water from.
    source_water: NotRequired[Volume]
    # Number of its stage.
    stage: NotRequired[int]
    # Water to take out of the tank, on a ramp.
    take_out: NotRequired[Volume]
    # Length, cm.
    to_level: NotRequired[Length]
    # Level it ends at, in the same parts.
    to_part: NotRequired[Fraction]
    # Volume, L.
    to_volume: NotRequired[Volume]


# How to move the animals. Times count from the first drop, or from the move.
PlanAnswer = TypedDict("PlanAnswer", {
    # What was assumed where nothing was given.
    "assumptions": "Notes",
    # What can hurt a person or an animal.
    "cautions": "Notes",
    # When to look, and what you should see.
    "checkpoints": "list[Checkpoint]",
    # The water around the animals over time.
    "curve": "list[CurvePoint]",
    # Time until the tolerance is reached, with settings you can make.
    "duration": "Duration",
    # Optimum before rounding to drops you can count, with only the pour-offs that the
    # container forces.
    "exact_duration": "Duration",
    # Difference between the two waters at the start.
    "gap": "AbsoluteSalinity",
    # The request with defaults filled in, as strings that you can send again.
    "inputs": "Inputs",
    # Lower bound: no schedule within the limits is faster.
    "least_duration": "Duration",
    # Every limit, and how close the plan comes to it.
    "limits": "list[PlanLimit]",
    # Formulas used, as keys of /v1/methods.
    "methods": "MethodKeys",
    "model": "Model",
    # What to do, in order.
    "phases": "list[Phase]",
    # How many times water is poured off.
    "pour_offs": "int",
    # Why this route.
    "reason": "Note",
    # The last step.
    "release": "Release",
    # How the animals move. `auto`: the planner chooses. `direct`: in one step. `drip`: by a
    # drip. `cups`: by measured cups poured in by hand. `ramp`: by changing the water of the
    # tank they live in. `combined`: by a ramp and then a drip. `staged`: through holding
    # tanks. Two are in answers only. `out_of_bag`: out of foul bag water first, whatever you
    # asked for. `by_marks`: a drip in a container of unknown volume, in parts of the starting
    # level.
    "route": "TransferRoute",
    # How many times the valve is set.
    "settings": "int",
    # The answer in a few short lines.
    "summary": "Summary",
    # Difference that remains at the release.
    "tolerance": "AbsoluteSalinity",
    # What the plan leaves out, or does at the edge of a range.
    "warnings": "Notes",
    # What to watch after the release, and when to call a vet.
    "after": "NotRequired[list[Note]]",
    # Other ways to drip. Each takes less time, fewer visits or less water than this plan, and
    # than each other way; empty if there are none. With `prefer`, the plan takes the least
    # possible with up to two pour-offs more than the container forces.
    "alternatives": "NotRequired[list[Alternative]]",
    # What to check before the first step.
    "before": "NotRequired[list[Note]]",
    # Duration divided by least duration.
    "bound_ratio": "NotRequired[float]",
    # What the drip takes; in stages, the drip of the last.
    "draw": "NotRequired[Draw]",
    # What may fail while nobody is watching, each with the first thing to do.
    "if": "NotRequired[list[Note]]",
    # Given for a drip, if count and mass of the animals are known.
    "life_support": "NotRequired[LifeSupport]",
    # All the new water that a plan by marks takes, in parts of the water they start in.
    "new_water_parts": "NotRequired[Fraction]",
    # Totals for the water changes of a ramp.
    "ramp": "NotRequired[RampTotals]",
    # Whether the search for this plan reached its end. `complete`: no plan is better by more
    # than 0.3 %. `bounded`: it stopped at the most schedules that one request may try; the
    # plan keeps every limit, but a better one may exist. Missing in plans saved by release
    # 0.2.0.
    "search": "NotRequired[Literal[\"complete\", \"bounded\"]]",
    # The way back, if the container is known.
    "set_aside": "NotRequired[SetAside]",
    # Stages of a move through holding tanks.
    "stages": "NotRequired[list[TransferStage]]",
    # What to do about the temperature, before the first phase and after the last.
    "temperature_steps": "NotRequired[TemperatureSteps]",
    # Anhydrous salt for the water changes of a ramp.
    "total_salt": "NotRequired[Mass]",
    # Species asked for by a name other than their id, and how each name was understood.
    "understood": "NotRequired[UnderstoodNames]",
    # How many times someone must come during a drip: to start it, set the valve, pour off,
    # refill the jug, close the valve and release. Missing in plans of earlier releases.
    "visits": "NotRequired[int]",
})

PlanField: TypeAlias = 'Literal["duration", "exact_duration", "least_duration"]'

class PlanLimit(TypedDict):
    """One limit of the plan."""

    # Whether a looser limit would let the plan be faster.
    binding: bool
    # Nearest the plan comes to the limit.
    extreme: Quantity
    # A value in a fixed unit, with its standard uncertainty (k = 1) if known.
    limit: Quantity
    # Limit minus extreme.
    margin: Quantity
    name: str
    standing: Literal["given", "proposed", "definition", "common_practice", "published_fit", "standard"]


# One water: volume, salinity, temperature and, if known, alkalinity and pH, separated by
# commas.
PortionText: TypeAlias = 'str'

class PracticalBand(TypedDict):
    """Known bounds of salinity on the practical scale. A missing bound is unknown, neither zero nor infinite."""

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
    # What went wrong with this request.
    detail: NotRequired[str]
    errors: NotRequired[list[Fault]]
    # How many more faults there are than `errors` lists.
    more_errors: NotRequired[int]
    # Id of this request in the server's log.
    request_id: NotRequired[str]


class Quantity(TypedDict):
    """A value in a fixed unit, with its standard uncertainty (k = 1) if known."""

    unit: str
    value: float
    uncertainty: NotRequired[float]


class RampLimits(TypedDict):
    """Limits for changing the water of the tank the animal lives in."""

    # Absolute salinity, g/kg.
    per_day: AbsoluteSalinity
    # Absolute salinity, g/kg.
    per_week: AbsoluteSalinity


class RampTotals(TypedDict):
    """Totals for the water changes of a ramp. No ramp within the limits takes fewer days."""

    # Number of water changes.
    changes: int
    # Days from the first day to the last change.
    days: int
    # Anhydrous salt in all; 0 if the source water alone is enough.
    salt: Mass
    # Whether the search for fewer changes and less water reached its end (`complete`) or its
    # bound (`bounded`).
    search: Literal["complete", "bounded"]
    # New water in all.
    water: Volume
    # A plan that takes up to a tenth longer, but less salt, less water or fewer changes.
    cheaper: NotRequired[CheaperRamp]


# A specific gravity at its two temperatures, or one read on a glass hydrometer marked for 60
# °F. A conductivity of the water as it is, or as a pen shows it for 25 °C. Dissolved solids,
# which are a conductivity multiplied by the factor of the pen.
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

# What the scale of a refractometer is for.
RefractometerScale: TypeAlias = 'Literal["seawater", "nacl", "brix"]'

class Release(TypedDict):
    """The last step."""

    # Absolute salinity, g/kg.
    gap: AbsoluteSalinity
    # Time before and after it without other change.
    rest: Duration
    # Duration, h.
    time: Duration


class SalinityBand(TypedDict):
    """Known bounds of salinity. A missing bound is unknown, neither zero nor infinite."""

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


# Rate of change of absolute salinity, g/kg/h.
SalinityRate: TypeAlias = 'Quantity'

# A rate of change of salinity: g/kg/h.
SalinityRateText: TypeAlias = 'str'

SaltKind: TypeAlias = 'Literal["sea_salt", "nacl"]'

class SaltMixAnswer(TypedDict):
    """A batch of water, and how to make it."""

    # Absolute salinity, g/kg.
    absolute_salinity: AbsoluteSalinity
    # What was assumed where nothing was given.
    assumptions: Notes
    # What can hurt a person or an animal.
    cautions: Notes
    # Volume, L.
    final_volume: Volume
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Practical salinity (PSS-78), ppt.
    practical_salinity: PracticalSalinity
    # Mass of the product.
    salt: Mass
    # Salt in one litre of the finished water.
    salt_per_litre: SaltPerLitre
    # Water to start from, at the same temperature.
    source_water: Volume
    # What to do, in order.
    steps: Notes
    # The answer in a few short lines.
    summary: Summary
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Water content used for this answer.
    product_water_content: NotRequired[Fraction]
    # Mass of a fully hydrated mix, if the product's water content is not known.
    salt_hydrated: NotRequired[Mass]


# Sea salt per litre of water at the stated temperature, g/L.
SaltPerLitre: TypeAlias = 'Quantity'

class SavedTransferAnswer(TypedDict):
    """A saved transfer in its current state."""

    # What the log shows.
    course: Course
    created_at: str
    # When the transfer will be deleted.
    expires_at: str
    # Lets anyone who knows it read the transfer.
    id: str
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # What was read, seen and reported, as it was sent.
    log: list[TransferReading]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Time of the first drop.
    start: str
    # The answer in a few short lines.
    summary: Summary
    # From then on, only what goes wrong can be logged.
    end: NotRequired[str]
    # Lets you change the transfer. Given once, when it is saved.
    key: NotRequired[str]
    note: NotRequired[str]
    # The plan in force. Missing after a stop, or if no plan leads on.
    plan: NotRequired[PlanAnswer]
    # Time that the times of the plan in force count from.
    plan_start: NotRequired[str]
    state: NotRequired[Literal["planned", "under_way", "stopped", "finished", "cancelled"]]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]


# How carefully a life stage must be moved.
SensitivityClass: TypeAlias = 'Literal["hardy", "moderate", "delicate", "invertebrate", "stenohaline-fresh", "stenohaline-marine", "plant"]'

class SetAside(TypedDict):
    """The way back: old water of the animals, kept aerated and covered."""

    # Duration, h.
    until: Duration
    # Volume, L.
    volume: Volume


# Whether some water suits everybody.
SharedStatus: TypeAlias = 'Literal["shared", "none", "unknown"]'

class SmallestGroup(TypedDict):
    """The smallest number of its own kind to keep it with."""

    count: int
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class Source(TypedDict):
    """Where a value was found."""

    citation: str
    key: str
    # How much of it was read; missing if none was.
    seen: NotRequired[str]
    # Name of the source in sentences.
    short_name: NotRequired[str]
    url: NotRequired[str]
    year: NotRequired[int]


class SourcedPHBand(TypedDict):
    """Known bounds of pH with their source."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: NotRequired[Mark]
    # pH on the NBS scale.
    max: NotRequired[PH]
    # pH on the NBS scale.
    min: NotRequired[PH]
    # Where a value was found.
    source: NotRequired[Source]


class SourcedPracticalBand(TypedDict):
    """Known bounds of salinity on the practical scale, with their source. A value within half of the last digit past a bound still counts as inside."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: NotRequired[Mark]
    # Practical salinity (PSS-78), ppt.
    max: NotRequired[PracticalSalinity]
    # Kind of evidence for the maximum, if it is another.
    max_basis: NotRequired[str]
    # How well founded the maximum is, if that differs from the minimum.
    max_mark: NotRequired[Mark]
    # Practical salinity (PSS-78), ppt.
    min: NotRequired[PracticalSalinity]
    # Where a value was found.
    source: NotRequired[Source]


class SourcedSalinityBand(TypedDict):
    """Known bounds of salinity with their source."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: NotRequired[Mark]
    # Absolute salinity, g/kg.
    max: NotRequired[AbsoluteSalinity]
    # Kind of evidence for the maximum, if it is another.
    max_basis: NotRequired[str]
    # How well founded the maximum is, if that differs from the minimum.
    max_mark: NotRequired[Mark]
    # Absolute salinity, g/kg.
    min: NotRequired[AbsoluteSalinity]
    # Where a value was found.
    source: NotRequired[Source]


class SourcedTemperatureBand(TypedDict):
    """Known bounds of temperature with their source."""

    # Kind of evidence.
    basis: NotRequired[str]
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: NotRequired[Mark]
    # Temperature (ITS-90), °C.
    max: NotRequired[Temperature]
    # Temperature (ITS-90), °C.
    min: NotRequired[Temperature]
    # Where a value was found.
    source: NotRequired[Source]


class SpeciesAnswer(TypedDict):
    """A species with what is known of its life stages."""

    # How a species lives with others, whether it needs land, and how to carry it. What is
    # missing is not known.
    behaviour: SpeciesBehaviour
    cautions: Notes
    common_names: list[str]
    family: str
    german_names: list[str]
    # Kind of organism.
    group: SpeciesGroup
    # fresh, brackish or marine, as a database lists it.
    habitat: list[Trait]
    # Hazards to people and tank mates. None listed does not mean that there are none.
    hazards: list[Trait]
    id: str
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Known rules. Others may apply where you live.
    law: list[Trait]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    scientific_name: str
    # Those of the names that other species share, in the table or beyond it. They do not
    # identify a species.
    shared_names: list[str]
    # What is known of each life stage.
    stages: list[Stage]
    # The answer in a few short lines.
    summary: Summary
    synonyms: list[str]
    # Life stages that the table has nothing about.
    unknown_stages: list[LifeStage]
    air_breather: NotRequired[str]
    # Build, used to estimate mass from length; from memory.
    body_shape: NotRequired[Literal["eel-like", "elongated", "fusiform", "short-and-deep"]]
    climate_zone: NotRequired[str]
    # Whether the row covers a group of species, which may differ.
    collective: NotRequired[bool]
    # How the species was listed in a year. What counts is the law where you are, on the day.
    conservation: NotRequired[Conservation]
    database_id: NotRequired[str]
    # Which waters the young and the adults live in.
    life_cycle: NotRequired[SpeciesLifeCycle]
    # Whether the operator of this service added it.
    local: NotRequired[bool]
    # Migration between waters, such as anadromous.
    migration: NotRequired[Trait]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]
    # Those of the names that mean this species alone, though names of other species end with
    # them.
    usual_names: NotRequired[list[str]]


class SpeciesBehaviour(TypedDict):
    """How a species lives with others, whether it needs land, and how to carry it. What is missing is not known."""

    notes: list[str]
    # peaceful, semi-aggressive, aggressive, fin-nipper, predator-of-fish,
    # predator-of-small-fish (an eighth of its length), predator-of-shrimp-and-snails,
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
    """How many of the species found have each value, most frequent first."""

    family: list[Facet]
    group: list[Facet]
    # A species counts once for each class among its stages.
    sensitivity_class: list[Facet]


# Kind of organism.
SpeciesGroup: TypeAlias = 'Literal["fish", "crustacean", "mollusc", "plant", "algae", "cnidarian", "amphibian", "reptile", "rotifer", "chelicerate"]'

class SpeciesJudgement(TypedDict):
    """What a water means for a life stage of a species."""

    id: str
    name: str
    reasons: Notes
    stage: LifeStage
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    verdict: Verdict
    # The number of `nearest_salinity`, as g/kg.
    nearest: NotRequired[AbsoluteSalinity]
    # Nearest salinity to keep the species at: in its preferred range or, if that is unknown,
    # in the range it may be planned for. Missing if this salinity will do.
    nearest_salinity: NotRequired[PracticalSalinity]
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    ph: NotRequired[Verdict]
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    salinity: NotRequired[Verdict]
    # What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives
    # this salinity for a while. Do not keep it there, unless the reasons say that this is
    # ordinary sea water or that no preference is known; for a temperature or pH alone, records
    # have it there. `unknown`: no record says. `outside`: past a known bound.
    temperature: NotRequired[Verdict]


class SpeciesLifeCycle(TypedDict):
    """Which waters the young and the adults live in."""

    # Notes on the larvae.
    notes: list[str]
    kind: NotRequired[Literal["direct", "amphidromous", "anadromous", "catadromous"]]
    # Salinity the larvae need.
    larva_range: NotRequired[SourcedPracticalBand]
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: NotRequired[Mark]
    # Where a value was found.
    source: NotRequired[Source]


class SpeciesListAnswer(TypedDict):
    """The species found, best match first."""

    # How many of the species found have each value, most frequent first.
    facets: SpeciesFacets
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Species that have something in common with a name that is not in the table.
    near: list[NameCandidate]
    # `near`, and the candidates for a misspelled name.
    near_misses: list[NearMiss]
    # Species skipped before the first.
    offset: int
    species: list[SpeciesSummary]
    # The answer in a few short lines.
    summary: Summary
    # Species found, on all pages.
    total: int
    # How a name was understood; missing if none was asked for. Act only on `exact`.
    match: NotRequired[NameMatch]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]


class SpeciesRef(TypedDict):
    """A member of the company."""

    id: str
    name: str
    stage: LifeStage


# Order of the species.
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
    # Those of the names that other species share, in the table or beyond it. They do not
    # identify a species.
    shared_names: list[str]
    # One for each life stage that is known.
    stages: list[StageSummary]
    # Older scientific names.
    synonyms: list[str]
    # Whether the row covers a group of species, which may differ.
    collective: NotRequired[bool]
    # Whether the operator of this service added it.
    local: NotRequired[bool]


# Specific gravity, SG.
SpecificGravity: TypeAlias = 'Quantity'

class Stage(TypedDict):
    """What is known of a life stage. What is missing is unknown."""

    # Confidence in the salinities as a whole.
    confidence: Mark
    # Default limits of the sensitivity class, for an animal of unknown origin. Proposed here,
    # not measured by anybody.
    limits: ClassLimits
    notes: list[str]
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # Largest change that one laboratory saw survived; never a limit.
    greatest_change_survived: NotRequired[ChangeSurvived]
    # Largest length on record.
    max_length: NotRequired[GreatestLength]
    # Known bounds of pH with their source.
    ph: NotRequired[SourcedPHBand]
    # Known bounds of salinity on the practical scale, with their source. A value within half
    # of the last digit past a bound still counts as inside.
    preferred_range: NotRequired[SourcedPracticalBand]
    # The numbers of `preferred_range`, as g/kg.
    preferred_salinity: NotRequired[SourcedSalinityBand]
    # The numbers of `survived_range`, as g/kg.
    salinity: NotRequired[SourcedSalinityBand]
    # Range that it was seen or is said to survive. Do not keep it there.
    survived_range: NotRequired[SourcedPracticalBand]
    # Range in which sources found or keep it; not lethal limits.
    temperature: NotRequired[SourcedTemperatureBand]
    # Its minimum is the coldest water in which it winters outdoors, hardly moving and not
    # eating. Missing if not known.
    winters_at: NotRequired[SourcedTemperatureBand]


class StageSummary(TypedDict):
    """A life stage in a list."""

    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    confidence: Mark
    # Known bounds of salinity on the practical scale. A missing bound is unknown, neither zero
    # nor infinite.
    preferred_range: PracticalBand
    # The numbers of `preferred_range`, as g/kg.
    preferred_salinity: SalinityBand
    # The numbers of `survived_range`, as g/kg.
    salinity: SalinityBand
    # How carefully a life stage must be moved.
    sensitivity_class: SensitivityClass
    stage: LifeStage
    # Range that it was seen or is said to survive. Do not keep it there.
    survived_range: PracticalBand
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    preferred_salinity_mark: NotRequired[Mark]
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    salinity_mark: NotRequired[Mark]


# A time with its zone, such as 2026-12-01T09:00:00Z; from 1970 to 2199.
StartText: TypeAlias = 'str'

class StepBack(TypedDict):
    """Half a step back towards the water the animals came from: half of what one step may be, in the stricter direction."""

    # Absolute salinity, g/kg.
    change: AbsoluteSalinity
    # Salinity to go to.
    practical_salinity: PracticalSalinity
    # Volume of the water set aside to put in, after taking out as much.
    old_water: NotRequired[Volume]


# The answer in a few short lines.
Summary: TypeAlias = 'str'

# Temperature (ITS-90), °C.
Temperature: TypeAlias = 'Quantity'

# A rate of change of temperature: K/h.
TemperatureRateText: TypeAlias = 'str'

# Steps that bring the animals from one temperature to another. Their times do not count in
# those of the phases.
TemperatureSteps = TypedDict("TemperatureSteps", {
    # What to do before the first phase.
    "first": "Notes",
    # Temperature (ITS-90), °C.
    "from": "Temperature",
    # What to do after the last phase.
    "last": "Notes",
    # Temperature (ITS-90), °C.
    "to": "Temperature",
})

# A temperature: C or F.
TemperatureText: TypeAlias = 'str'

class Together(TypedDict):
    """What temper, predation and numbers mean for the company; they decide before the water does. Common practice. What is not known is not listed, which does not make it safe."""

    # Whether some of them must not live together, whatever the water.
    apart: bool
    # Reasons, beginning with what keeps them apart.
    reasons: Notes


class TopOffAnswer(TypedDict):
    """What evaporation did, and what to add."""

    # What was assumed where nothing was given.
    assumptions: Notes
    # What can hurt a person or an animal.
    cautions: Notes
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # The answer in a few short lines.
    summary: Summary
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Change of salinity over the period.
    drift: NotRequired[AbsoluteSalinity]
    # Pure water that restores level and salinity.
    fresh_water: NotRequired[Volume]
    # Volume, L.
    missing: NotRequired[Volume]
    # Salinity after topping off with the top-off water.
    salinity_after: NotRequired[SalinityPair]
    # Salinity at the end of the period.
    salinity_at_end: NotRequired[SalinityPair]
    # One salinity on both scales.
    salinity_now: NotRequired[SalinityPair]


class Trait(TypedDict):
    """A fact about a species, and how well founded it is."""

    kind: str
    # How well founded a value is: read in a public copy of the source; follows from a
    # definition; a custom of the trade, without a source; recalled from memory; or a default
    # proposed here.
    mark: Mark
    # Where a value was found.
    source: NotRequired[Source]


class TransferAnimal(TypedDict):
    """One kind of animal. Its species sets the sensitivity and the water that may be planned for."""

    condition: NotRequired[Condition]
    # How many. With the mass of each kind, oxygen and ammonia become limits too.
    count: NotRequired[int]
    # Total length of one fish in the species table, instead of its mass.
    length: NotRequired[LengthText]
    # Mass of one animal.
    mass: NotRequired[MassText]
    origin: NotRequired[Origin]
    # How carefully a life stage must be moved.
    sensitivity: NotRequired[SensitivityClass]
    # The species, by its id in /v1/species or by a name that only it has.
    species: NotRequired[str]
    stage: NotRequired[LifeStage]


class TransferChange(TypedDict):
    """What to change; at least one field."""

    # A time with its zone, such as 2026-12-01T09:00:00Z; from 1970 to 2199.
    end: NotRequired[StartText]
    # Anything worth remembering, such as which valve it is.
    note: NotRequired[str]
    # A time with its zone, such as 2026-12-01T09:00:00Z; from 1970 to 2199.
    start: NotRequired[StartText]
    # `finished`: the animals are in the new water. `cancelled`: the move is called off. Both
    # end the transfer, now if no `end` is given. `under_way`: it has not ended after all; its
    # end is removed.
    state: NotRequired[Literal["finished", "cancelled", "under_way"]]


class TransferContainer(TypedDict):
    """The holding container. Inner sizes, if given, set its capacity and turn volumes into levels."""

    # Whether an air stone stirs the container. Without one, a drip is refused.
    aerated: NotRequired[bool]
    # A length: cm, mm, m, in, ft.
    bottom_diameter: NotRequired[LengthText]
    # Volume the container holds, up to the rim.
    capacity: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    diameter: NotRequired[LengthText]
    # Volume left empty below the rim; a tenth of the capacity if not given.
    freeboard: NotRequired[VolumeText]
    # Whether a heater holds the temperature of the container.
    heated: NotRequired[bool]
    # A length: cm, mm, m, in, ft.
    height: NotRequired[LengthText]
    # Whether the container stands in a water bath that holds its temperature.
    in_bath: NotRequired[bool]
    # Least volume of water the animals may have.
    least_volume: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    length: NotRequired[LengthText]
    # A length: cm, mm, m, in, ft.
    middle_width: NotRequired[LengthText]
    # Whether an overflow keeps the container at its start volume, so that you pour nothing
    # off.
    overflow: NotRequired[bool]
    # A bucket is a frustum; a bow front has a curved front pane.
    shape: NotRequired[VesselShape]
    # Volume at the start, of the water the animals are in.
    start_volume: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    top_diameter: NotRequired[LengthText]
    # Volume of the bucket under the overflow.
    waste_capacity: NotRequired[VolumeText]
    # A length: cm, mm, m, in, ft.
    width: NotRequired[LengthText]


class TransferEvent(TypedDict):
    """What happened, and whatever was read and seen with it. Only `event` is needed."""

    # What happened. `stop`: you closed the clamp for good. `animals_look_wrong`: any sign of
    # distress. `late`: you come after the time of a visit. `clamp_touched`: somebody set or
    # moved the drip by hand. `refilled`: the jug or the container was filled up. `restarted`:
    # only in a log, where a stopped transfer went on with a new plan.
    event: TransferEventKind
    # How the animals are. Anything but `ok` stops the plan: a sign of distress, or a moult,
    # which needs one to two days of rest. `not_feeding` counts as distress from 24 h after the
    # release.
    behaviour: NotRequired[Behaviour]
    # Cups poured in since the start, on the route `cups`.
    cups: NotRequired[int]
    # Drops you counted; 0 if nothing drips.
    drops: NotRequired[int]
    # Time you counted the drops for.
    drops_in: NotRequired[DurationText]
    # Instrument it was read with; that of the plan if not given.
    instrument: NotRequired[TransferInstrument]
    # Level of the water in the container, instead of a volume, if the plan has its shape. Its
    # uncertainty is assumed to be 0.3 cm.
    level: NotRequired[LengthText]
    # Nitrite in the tank of a ramp. The next water change waits until ammonia and nitrite are
    # as low as its filter must bring them.
    nitrite: NotRequired[NitriteText]
    note: NotRequired[str]
    # Salinity in the container, on any measure. Add its uncertainty if you know it; otherwise
    # that of the instrument is used.
    salinity: NotRequired[ReadingText]
    # Total ammonia in the container, or in the tank of a ramp.
    tan: NotRequired[AmmoniaText]
    # Temperature of the water in the container.
    temperature: NotRequired[TemperatureText]
    # When it was; now if not given.
    time: NotRequired[StartText]
    # Volume of water in the container. Its uncertainty is assumed to be 3 %.
    volume: NotRequired[VolumeText]


# What happened. `stop`: you closed the clamp for good. `animals_look_wrong`: any sign of
# distress. `late`: you come after the time of a visit. `clamp_touched`: somebody set or moved
# the drip by hand. `refilled`: the jug or the container was filled up. `restarted`: only in a
# log, where a stopped transfer went on with a new plan.
TransferEventKind: TypeAlias = 'Literal["stop", "animals_look_wrong", "power_off", "power_back", "late", "clamp_touched", "refilled", "restarted"]'

class TransferExport(TypedDict):
    """All that is kept of a transfer."""

    # What the log shows.
    course: Course
    created_at: str
    # When the transfer will be deleted.
    expires_at: str
    # Lets anyone who knows it read the transfer.
    id: str
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # The plans that were in force, one after another.
    legs: list[TransferLeg]
    # What was read, seen and reported, as it was sent.
    log: list[TransferReading]
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Time of the first drop.
    start: str
    # The answer in a few short lines.
    summary: Summary
    # From then on, only what goes wrong can be logged.
    end: NotRequired[str]
    note: NotRequired[str]
    # The plan in force. Missing after a stop, or if no plan leads on.
    plan: NotRequired[PlanAnswer]
    # Time that the times of the plan in force count from.
    plan_start: NotRequired[str]
    state: NotRequired[Literal["planned", "under_way", "stopped", "finished", "cancelled"]]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]


class TransferHoldingTanks(TypedDict):
    """Tanks of one size, each with its own filter, that you can set up."""

    # How many tanks you have; as many as the move takes if not given.
    count: NotRequired[int]
    # Salinity of the water you make their water from; pure water if not given.
    source: NotRequired[ReadingText]
    # Net volume of water in one tank; 100 L if not given.
    volume: NotRequired[VolumeText]


class TransferHomeTank(TypedDict):
    """The tank the animals live in, in which a ramp changes the water."""

    # Net volume of water.
    volume: VolumeText
    # Volume that evaporates in a day; made up with fresh water.
    evaporation_per_day: NotRequired[VolumeText]
    # Whether the ramp must be slow enough for the tank's filter; true if not given.
    filter: NotRequired[bool]
    # Largest share of the tank in one water change; 30 % if not given.
    greatest_share: NotRequired[FractionText]
    # Salinity of the water you make new water from; pure water if not given.
    source: NotRequired[ReadingText]
    # Salinities that the ramp must not run ahead of, as /v1/species/{id}/growth gives them.
    # Straight lines join the points; the last is the new water.
    target_curve: NotRequired[list[TransferTargetPoint]]


class TransferInstrument(TypedDict):
    """Your instrument."""

    # The two temperatures of a specific gravity, sample over pure water.
    calibration: NotRequired[ConventionText]
    # How a meter compensates for temperature: none, nlf (ISO 7888), or a coefficient such as
    # 1.91 %/C. Add at 20C if its display refers to 20 °C.
    compensation: NotRequired[CompensationText]
    # Correction of an instrument: a factor such as 1.02(1), or an amount to add, with its
    # unit, such as -0.0012(5) SG.
    correction: NotRequired[CorrectionText]
    # A glass hydrometer, a plastic box with a swinging pointer, a refractometer, a
    # conductivity meter, or a meter that multiplies conductivity by a factor to show dissolved
    # solids.
    kind: NotRequired[InstrumentKind]
    # What the scale of a refractometer is for.
    scale: NotRequired[RefractometerScale]
    tds_factor: NotRequired[float]
    # Whether your refractometer corrects for temperature itself.
    temperature_compensated: NotRequired[bool]
    # Temperature of the pure water in which you set a refractometer without compensation to
    # zero; 20 °C if not given.
    zero_temperature: NotRequired[TemperatureText]


class TransferLeg(TypedDict):
    """A stretch of a transfer under one plan."""

    # Time that the times of its plan count from.
    start: str
    # Steps of a drip, as the plan gave them.
    steps: list[TransferStep]
    # Time before it with the clamp closed.
    held: NotRequired[Duration]


class TransferLimits(TypedDict):
    """Limits that you set."""

    # Largest change of salinity in one step.
    at_once: NotRequired[SalinityDifferenceText]
    # Highest un-ionized ammonia in the container, as nitrogen.
    nh3: NotRequired[AmmoniaText]
    # Lowest oxygen in the container.
    oxygen: NotRequired[OxygenText]
    # Largest change of salinity in any 24 hours, including any before the plan.
    per_24_hours: NotRequired[SalinityDifferenceText]
    # Fastest change of salinity, at any moment of a drip.
    per_hour: NotRequired[SalinityRateText]
    # A rate of change of temperature: K/h.
    temperature_per_hour: NotRequired[TemperatureRateText]


class TransferLine(TypedDict):
    """The drip line and what its valve can do."""

    # Inner diameter of the hose, 0.2 to 20 mm. Needs `length` and `head`; the plan then says
    # how soon a failed valve fills the container.
    bore: NotRequired[LengthText]
    # Volume of one drop: count the drops that fill 10 mL.
    drop_volume: NotRequired[VolumeText]
    # Fastest drip that still falls in drops; 4 drops/s if not given.
    greatest_drip: NotRequired[DripRateText]
    # Height at the start from the lower end of the hose up to the source's surface, up to 3 m.
    # If that end is under water (`outlet_submerged`), measure from the surface of the
    # container.
    head: NotRequired[LengthText]
    # Depth at the start of the upper end of the hose below the source's surface.
    intake_depth: NotRequired[LengthText]
    # Slowest drip your valve can hold.
    least_drip: NotRequired[DripRateText]
    # Length of the hose from end to end, 1 cm to 100 m.
    length: NotRequired[LengthText]
    # Whether the lower end of the hose is under water in the container, so that the level
    # there counts too; false if not given.
    outlet_submerged: NotRequired[bool]
    # Most times that you will set the valve, including the first.
    settings: NotRequired[int]
    # Outer diameter of the end that the drops fall from, 2 to 10 mm. Gives the drop volume if
    # you leave that out; otherwise the two are compared.
    tip_diameter: NotRequired[LengthText]


class TransferNow(TypedDict):
    """What to do now."""

    # The one thing to do.
    act: Note
    id: str
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # What comes next, and when.
    next: Note
    # The answer in a few short lines.
    summary: Summary
    verdict: Literal["not_begun", "on_course", "corrected", "arrived", "stopped", "no_way_on", "paused", "ended"]
    # A sentence for people, with its code for programs.
    why: Note
    # Time of the latest entry.
    last_entry_at: NotRequired[str]
    # When that is; missing if nothing is planned.
    next_at: NotRequired[str]
    # Species asked for by a name other than their id, and how each name was understood.
    understood: NotRequired[UnderstoodNames]


class TransferReading(TypedDict):
    """What you read and saw at one visit. Leave out what you did not look at."""

    # How the animals are. Anything but `ok` stops the plan: a sign of distress, or a moult,
    # which needs one to two days of rest. `not_feeding` counts as distress from 24 h after the
    # release.
    behaviour: NotRequired[Behaviour]
    # Cups poured in since the start, on the route `cups`.
    cups: NotRequired[int]
    # Drops you counted; 0 if nothing drips.
    drops: NotRequired[int]
    # Time you counted the drops for.
    drops_in: NotRequired[DurationText]
    # What happened. `stop`: you closed the clamp for good. `animals_look_wrong`: any sign of
    # distress. `late`: you come after the time of a visit. `clamp_touched`: somebody set or
    # moved the drip by hand. `refilled`: the jug or the container was filled up. `restarted`:
    # only in a log, where a stopped transfer went on with a new plan.
    event: NotRequired[TransferEventKind]
    # Instrument it was read with; that of the plan if not given.
    instrument: NotRequired[TransferInstrument]
    # Level of the water in the container, instead of a volume, if the plan has its shape. Its
    # uncertainty is assumed to be 0.3 cm.
    level: NotRequired[LengthText]
    # Nitrite in the tank of a ramp. The next water change waits until ammonia and nitrite are
    # as low as its filter must bring them.
    nitrite: NotRequired[NitriteText]
    note: NotRequired[str]
    # Salinity in the container, on any measure. Add its uncertainty if you know it; otherwise
    # that of the instrument is used.
    salinity: NotRequired[ReadingText]
    # Total ammonia in the container, or in the tank of a ramp.
    tan: NotRequired[AmmoniaText]
    # Temperature of the water in the container.
    temperature: NotRequired[TemperatureText]
    # When it was; now if not given.
    time: NotRequired[StartText]
    # Volume of water in the container. Its uncertainty is assumed to be 3 %.
    volume: NotRequired[VolumeText]


# What you move, from where to where, and with what.
TransferRequest = TypedDict("TransferRequest", {
    # The water the animals are in.
    "from": "TransferWater",
    # The new water.
    "to": "TransferWater",
    "animals": "NotRequired[list[TransferAnimal]]",
    # The container for the drip.
    "container": "NotRequired[TransferContainer]",
    # What feeds the drip. `jug`: a jug that you fill with one charge at a time, so that a
    # stuck valve can do little harm. `tank`: a hose that hangs in the tank. If not given:
    # `tank` if `source_tank.surface`, `line.head` or `line.intake_depth` describes such a
    # hose, otherwise `jug`.
    "feed": "NotRequired[Feed]",
    # Tanks to live in between the stages of a long move.
    "holding_tanks": "NotRequired[TransferHoldingTanks]",
    # Other animals that live in the home tank.
    "home_mates": "NotRequired[list[TransferAnimal]]",
    # The tank the animals live in, for a ramp.
    "home_tank": "NotRequired[TransferHomeTank]",
    # The instrument you will check with.
    "instrument": "NotRequired[TransferInstrument]",
    # Limits that replace those of the sensitivity class.
    "limits": "NotRequired[TransferLimits]",
    # The drip line.
    "line": "NotRequired[TransferLine]",
    # What a drip should take least of.
    "prefer": "NotRequired[Preference]",
    # Change of salinity in the 24 hours before the plan.
    "recent_change": "NotRequired[SalinityDifferenceText]",
    # Temperature of the air around the container. Without a heater or a bath, the container
    # drifts towards it. Oxygen and ammonia are judged at the warmest of room and waters.
    "room_temperature": "NotRequired[TemperatureText]",
    # How the animals move. `auto`: the planner chooses. `direct`: in one step. `drip`: by a
    # drip. `cups`: by measured cups poured in by hand. `ramp`: by changing the water of the
    # tank they live in. `combined`: by a ramp and then a drip. `staged`: through holding
    # tanks. Two are in answers only. `out_of_bag`: out of foul bag water first, whatever you
    # asked for. `by_marks`: a drip in a container of unknown volume, in parts of the starting
    # level.
    "route": "NotRequired[TransferRoute]",
    # The tank that feeds the drip.
    "source_tank": "NotRequired[TransferSourceTank]",
    # A time with its zone, such as 2026-12-01T09:00:00Z; from 1970 to 2199.
    "start": "NotRequired[StartText]",
    # How long they stay in the new water, as in quarantine; for good if not given.
    "stay": "NotRequired[DurationText]",
    # Time zone of your clock, for quiet hours; that of `start` if not given.
    "time_zone": "NotRequired[ZoneText]",
    # Difference from the new water that may remain at the release.
    "tolerance": "NotRequired[SalinityDifferenceText]",
    # When someone can come. If not given: whenever the plan asks.
    "visits": "NotRequired[TransferVisits]",
})

# How the animals move. `auto`: the planner chooses. `direct`: in one step. `drip`: by a drip.
# `cups`: by measured cups poured in by hand. `ramp`: by changing the water of the tank they
# live in. `combined`: by a ramp and then a drip. `staged`: through holding tanks. Two are in
# answers only. `out_of_bag`: out of foul bag water first, whatever you asked for. `by_marks`:
# a drip in a container of unknown volume, in parts of the starting level.
TransferRoute: TypeAlias = 'Literal["auto", "direct", "drip", "cups", "ramp", "combined", "staged", "out_of_bag", "by_marks"]'

class TransferSourceTank(TypedDict):
    """The tank that feeds the drip."""

    # A volume: L, mL, gal, gal_imp.
    volume: VolumeText
    # An area: cm2, m2.
    surface: NotRequired[AreaText]


class TransferStage(TypedDict):
    """One part of a move through holding tanks. Each stage leads to the next tank, the last to the new water."""

    # Absolute salinity, g/kg.
    change: AbsoluteSalinity
    number: int
    # How the animals move in this stage: in one step or by a drip.
    route: TransferRoute
    # Salinity of the water it leads to.
    salinity: PracticalSalinity
    # Duration, h.
    start: Duration
    # Temperature (ITS-90), °C.
    temperature: Temperature
    # What must be ready before this stage.
    condition: NotRequired[Note]
    # Part of that water that the drip takes.
    drawn: NotRequired[Volume]
    # Shortest time to live there.
    hold: NotRequired[Duration]
    # What your instrument shows in that water.
    reading: NotRequired[ReadingValue]
    # Anhydrous salt for that water.
    salt: NotRequired[Mass]
    # Source water to dissolve the salt in.
    source_water: NotRequired[Volume]
    # Water to make for the holding tank, including what the drip takes.
    water: NotRequired[Volume]


class TransferStep(TypedDict):
    """Pour off, set the valve, wait for the mark."""

    # Drip rate, drops/s.
    drip: DripRate
    # Whether to set the valve for it.
    set: bool
    # Volume, L.
    until: Volume
    # Volume, L.
    pour_to: NotRequired[Volume]


class TransferTargetPoint(TypedDict):
    """A salinity to reach at a time of a ramp, and not before."""

    # A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
    salinity: ReadingText
    # Time from the start of the ramp.
    time: DurationText


class TransferVisits(TypedDict):
    """When someone can come to the container to look, set the valve, pour off and release."""

    # Shortest time from one visit to the next.
    every: NotRequired[DurationText]
    # Shortest time from the start to the first visit. If not given: half an hour or `every`,
    # whichever is shorter.
    first: NotRequired[DurationText]
    # Time of day when quiet hours begin, in which nobody comes. Needs `start`.
    quiet_from: NotRequired[ClockText]
    # Time of day when quiet hours end.
    quiet_until: NotRequired[ClockText]


class TransferWater(TypedDict):
    """One of the two waters: the one the animals are in, or the new one."""

    # A salinity on any measure, with its unit: ppt, g/kg, g/L, SG, mS/cm ….
    salinity: ReadingText
    # A temperature: C or F.
    temperature: TemperatureText
    # A total alkalinity: dKH, meq/L, mg/L CaCO3.
    alkalinity: NotRequired[AlkalinityText]
    # Whether chlorine and chloramine have been removed. If you say false, the water is
    # refused.
    conditioned: NotRequired[bool]
    # Time the animals have been in a shipping bag, if this is the water of one.
    hours_in_bag: NotRequired[DurationText]
    # Nitrite. Above 0.2 mg/L N, bag water counts as foul and new water is refused.
    nitrite: NotRequired[NitriteText]
    # A pH on the NBS scale.
    ph: NotRequired[PHText]
    # Total ammonia.
    tan: NotRequired[AmmoniaText]


class UnderstoodName(TypedDict):
    """A species asked for by a name other than its id."""

    asked: str
    id: str
    name: str
    scientific_name: str


# Species asked for by a name other than their id, and how each name was understood.
UnderstoodNames: TypeAlias = 'list[UnderstoodName]'

# What a water means for an animal. `preferred`: keep it there. `tolerated`: it survives this
# salinity for a while. Do not keep it there, unless the reasons say that this is ordinary sea
# water or that no preference is known; for a temperature or pH alone, records have it there.
# `unknown`: no record says. `outside`: past a known bound.
Verdict: TypeAlias = 'Literal["preferred", "tolerated", "unknown", "outside"]'

class VesselAnswer(TypedDict):
    """What a vessel holds."""

    # What was assumed where nothing was given.
    assumptions: Notes
    # What can hurt a person or an animal.
    cautions: Notes
    # Length, cm.
    fill_height: Length
    # Volume of the empty vessel, up to the rim.
    gross_volume: Volume
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    model: Model
    # Volume of water in the vessel.
    net_volume: Volume
    # The answer in a few short lines.
    summary: Summary
    # Volume per centimetre of level at the surface.
    volume_per_level: VolumePerLength
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # Mass of the water if it were fresh and at 25 °C.
    water_mass: Mass
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Volume, L.
    rock_volume: NotRequired[Volume]
    # Volume of the grains of sand.
    sand_volume: NotRequired[Volume]
    # Water between the grains of sand; part of the net volume.
    sand_water: NotRequired[Volume]


# A bucket is a frustum; a bow front has a curved front pane.
VesselShape: TypeAlias = 'Literal["box", "cylinder", "bucket", "bow_front"]'

# Volume, L.
Volume: TypeAlias = 'Quantity'

# Volume per centimetre of level, L/cm.
VolumePerLength: TypeAlias = 'Quantity'

# A volume: L, mL, gal, gal_imp.
VolumeText: TypeAlias = 'str'

class WaterChangeAnswer(TypedDict):
    """What to take out and put in."""

    # What was assumed where nothing was given.
    assumptions: Notes
    # What can hurt a person or an animal.
    cautions: Notes
    # The request with defaults filled in, as strings that you can send again.
    inputs: Inputs
    # Formulas used, as keys of /v1/methods.
    methods: MethodKeys
    # `exchange`: how much water to change to reach the target. `weekly`: what the new water
    # must be, for a volume you change anyway. `outcome`: the salinity that this change gives.
    mode: Literal["exchange", "weekly", "outcome"]
    model: Model
    # Salinity of the new water; with several steps, of the last.
    new_water_salinity: SalinityPair
    # Water to put in, back to the same level.
    put_in: Volume
    # One salinity on both scales.
    salinity_after: SalinityPair
    # The steps, in order.
    steps: list[ChangeStep]
    # The answer in a few short lines.
    summary: Summary
    # Water to take out, over all steps.
    take_out: Volume
    # What the answer leaves out, or gives at the edge of a range.
    warnings: Notes
    # The input that contributes most to the uncertainty.
    dominant: NotRequired[Dominant]
    # Salt to make the new water from the source water.
    salt: NotRequired[Mass]
    # Mass of a fully hydrated mix, if the product's water content is not known.
    salt_hydrated: NotRequired[Mass]
    # Source water to make the new water from.
    source_water: NotRequired[Volume]


class WayOn(TypedDict):
    """How to go on after a stop."""

    # A sentence for people, with its code for programs.
    advice: Note
    # Earliest time to go on, from the first drop; until then the animals must rest.
    earliest: Duration


# Zone of the Venice system (1958).
Zone: TypeAlias = 'Literal["limnetic", "oligohaline_beta", "oligohaline_alpha", "mesohaline_beta", "mesohaline_alpha", "polyhaline", "euhaline", "hyperhaline"]'

# A time zone, by its IANA name.
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
        "GET", "/v1/conversions", ("reading", "temperature", "instrument", "calibration", "scale", "temperature_compensated", "zero_temperature", "compensation", "tds_factor", "correction", "species", "stage", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Convert a reading to every measure"),
    "convert_readings": Operation(
        "POST", "/v1/conversions", ("units", "lang", "decimal", "format", "sep", "again",), {}, "application/json", "Convert many readings"),
    "get_calibration": Operation(
        "GET", "/v1/conversions/calibration", ("standard", "reading", "standard_temperature", "temperature", "instrument", "calibration", "scale", "temperature_compensated", "zero_temperature", "compensation", "tds_factor", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Calibrate an instrument against a known standard"),
    "list_methods": Operation(
        "GET", "/v1/methods", ("units", "lang", "decimal", "format", "sep", "again",), {}, "", "List the formulas in use"),
    "get_blend": Operation(
        "GET", "/v1/mixes/blend", ("water", "target", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Blend several waters"),
    "get_salt_mix": Operation(
        "GET", "/v1/mixes/salt", ("target", "volume", "temperature", "source", "salt_kind", "product_water_content", "calibration_batch_salt", "calibration_batch_water", "calibration_batch_reading", "shape", "length", "width", "middle_width", "height", "diameter", "top_diameter", "bottom_diameter", "fill_height", "glass", "sand_depth", "sand_porosity", "rock_mass", "rock_density", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Calculate how much salt to use"),
    "get_top_off": Operation(
        "GET", "/v1/mixes/top-off", ("volume", "salinity", "missing", "salinity_now", "top_off_water", "evaporation_per_day", "period", "temperature", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Make up for evaporation"),
    "get_water_change": Operation(
        "GET", "/v1/mixes/water-change", ("volume", "salinity", "target", "change", "new_water", "source", "temperature", "greatest_change", "greatest_share", "product_water_content", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Plan a water change"),
    "list_species": Operation(
        "GET", "/v1/species", ("q", "group", "family", "lives_at", "keeps_with", "sort", "limit", "offset", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Search for species"),
    "get_compatibility": Operation(
        "GET", "/v1/species/compatibility", ("species", "salinity", "temperature", "ph", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Find the water several species share"),
    "get_species": Operation(
        "GET", "/v1/species/{id}", ("id", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Get one species"),
    "get_species_growth": Operation(
        "GET", "/v1/species/{id}/growth", ("id", "stage", "salinity", "target", "grown_in", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Plan the salinity as an animal grows"),
    "save_transfer": Operation(
        "POST", "/v1/transfers", ("curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Save a transfer"),
    "get_transfer_plan": Operation(
        "GET", "/v1/transfers/plan", ("from_salinity", "from_temperature", "to_salinity", "to_temperature", "from_ph", "from_alkalinity", "from_tan", "from_nitrite", "from_hours_in_bag", "to_ph", "to_alkalinity", "to_tan", "to_nitrite", "room_temperature", "container_capacity", "container_freeboard", "container_start_volume", "container_least_volume", "container_aerated", "container_heated", "container_in_bath", "container_overflow", "container_waste_capacity", "container_shape", "container_length", "container_width", "container_middle_width", "container_height", "container_diameter", "container_top_diameter", "container_bottom_diameter", "line_drop_volume", "line_least_drip", "line_greatest_drip", "line_settings", "line_tip_diameter", "line_bore", "line_length", "line_head", "line_outlet_submerged", "line_intake_depth", "source_tank_volume", "source_tank_surface", "home_tank_volume", "home_tank_source", "home_tank_greatest_share", "home_tank_evaporation_per_day", "home_tank_filter", "holding_tanks_volume", "holding_tanks_count", "holding_tanks_source", "instrument_kind", "instrument_calibration", "instrument_scale", "instrument_temperature_compensated", "instrument_zero_temperature", "instrument_compensation", "instrument_tds_factor", "instrument_correction", "tolerance", "limits_at_once", "limits_per_hour", "limits_per_24_hours", "limits_temperature_per_hour", "limits_nh3", "limits_oxygen", "recent_change", "route", "start", "time_zone", "visits_every", "visits_first", "visits_quiet_from", "visits_quiet_until", "to_conditioned", "stay", "prefer", "feed", "species", "stage", "count", "mass", "length", "sensitivity", "origin", "condition", "curve", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Plan a transfer by URL"),
    "plan_transfer": Operation(
        "POST", "/v1/transfers/plan", ("curve", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "application/json", "Plan a transfer"),
    "delete_transfer": Operation(
        "DELETE", "/v1/transfers/{id}", ("id",), {"if_match": "If-Match"}, "", "Delete a saved transfer"),
    "get_transfer": Operation(
        "GET", "/v1/transfers/{id}", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Get a saved transfer"),
    "change_transfer": Operation(
        "PATCH", "/v1/transfers/{id}", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"if_match": "If-Match"}, "application/json", "Change the start, note or end of a saved transfer"),
    "get_transfer_calendar": Operation(
        "GET", "/v1/transfers/{id}/calendar", ("id", "units", "lang", "decimal", "format", "again",), {}, "", "Get the visits of a saved transfer as a calendar"),
    "get_transfer_chart": Operation(
        "GET", "/v1/transfers/{id}/chart", ("id", "units", "lang", "decimal", "format", "again",), {}, "", "Get the chart of a saved transfer"),
    "log_event": Operation(
        "POST", "/v1/transfers/{id}/events", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Report what happened and get what to do first"),
    "export_transfer": Operation(
        "GET", "/v1/transfers/{id}/export", ("id", "units", "lang", "decimal", "format", "sep", "again",), {}, "", "Export a saved transfer"),
    "revoke_helper_key": Operation(
        "DELETE", "/v1/transfers/{id}/helper-key", ("id",), {}, "", "Revoke the helper key"),
    "create_helper_key": Operation(
        "POST", "/v1/transfers/{id}/helper-key", ("id",), {}, "", "Create a helper key"),
    "get_transfer_now": Operation(
        "GET", "/v1/transfers/{id}/now", ("id", "units", "lang", "decimal", "format", "again",), {}, "", "Get what to do now"),
    "log_reading": Operation(
        "POST", "/v1/transfers/{id}/readings", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Log a reading and have the plan corrected"),
    "restart_transfer": Operation(
        "POST", "/v1/transfers/{id}/restart", ("id", "curve", "units", "lang", "decimal", "format", "sep", "again",), {"idempotency_key": "Idempotency-Key"}, "application/json", "Restart a stopped transfer"),
    "get_vessel_volume": Operation(
        "GET", "/v1/vessels/volume", ("shape", "length", "width", "middle_width", "height", "diameter", "top_diameter", "bottom_diameter", "fill_height", "glass", "sand_depth", "sand_porosity", "rock_mass", "rock_density", "units", "lang", "decimal", "only", "format", "sep", "again",), {}, "", "Calculate how much water a vessel holds"),
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
        """Convert a reading to every measure.

        Converts a reading on any measure to all the others for the same water, with the
        corrections made, the uncertainty and the Venice zone. A measure outside its formula's
        range is left out and named in `warnings`.

        reading: What your instrument shows, with its unit.
        temperature: Temperature of the sample. Required for SG, conductivity, g/L, density and
        refractive index; 25 °C for all others, if not given.
        instrument: The instrument you read. `none`: the reading is right on its scale.
        calibration: The two temperatures your hydrometer is marked for.
        scale: What the scale of your refractometer is for; seawater if not given.
        temperature_compensated: Whether your refractometer corrects for temperature itself;
        true if not given.
        zero_temperature: Temperature of the pure water in which you set a refractometer
        without compensation to zero; 20 °C if not given.
        compensation: How your meter compensates for temperature.
        tds_factor: Factor of a meter that shows dissolved solids, usually 0.5, 0.64 or 0.7.
        Without it, a reading in ppm is answered for each of the three.
        correction: Correction of your instrument, as /v1/conversions/calibration gives it.
        species: A species, by its id or by a name that only it has. The answer then says
        whether this water suits it.
        stage: Life stage of that species.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Convert many readings.

        Takes a JSON list of up to 10 000 readings, or a CSV table of any length. The answer
        comes piece by piece; that of a table while you are still sending it. A bad reading
        gets its errors in its own place and does not stop the others. If an answer breaks off,
        it is not valid JSON, and the HTTP stream ends with an error. The table needs a header
        row. The columns `reading`, `temperature`, `instrument`, `calibration`, `scale`,
        `temperature_compensated`, `zero_temperature`, `compensation`, `tds_factor` and
        `correction` are read. If a header holds a unit, such as `reading [SG]`, the cells
        below it are bare numbers. The answer is a table too, unless you ask for another
        format: all your columns unchanged, then the measures and a column `error`. JSON has
        the measures alone, one item for each row. The trailers `Saltlock-Rows-Good` and
        `Saltlock-Rows-Bad` of a table count the rows. Write the table in UTF-8, or declare
        `charset=iso-8859-1` or `charset=windows-1252`; the answer is always UTF-8. Client
        authors: read the answer while you send, or both sides wait forever. One client may
        have 8 of these requests open at a time. A few more wait for a moment; beyond that the
        answer is 429 with Retry-After, or 503 if all clients together have too many open.

        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Calibrate an instrument against a known standard.

        Gives the correction of your instrument, with its uncertainty, from a reading in water
        whose salinity you know: a bottled standard, pure water or a weighed mix. Send it as
        `correction` with later readings.

        standard: Known salinity of the standard, on any measure.
        reading: What your instrument shows in the standard, with its unit.
        standard_temperature: Temperature at which the standard has that value; 25 °C if not
        given.
        temperature: Temperature of the standard when you read it.
        instrument: The instrument you read.
        calibration: The two temperatures your hydrometer is marked for.
        scale: What the scale of your refractometer is for; seawater if not given.
        temperature_compensated: Whether your refractometer corrects for temperature itself;
        true if not given.
        zero_temperature: Temperature of the pure water in which you set a refractometer
        without compensation to zero; 20 °C if not given.
        compensation: How your meter compensates for temperature.
        tds_factor: Factor of a meter that shows dissolved solids, usually 0.5, 0.64 or 0.7.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """List the formulas in use.

        Gives source, range, uncertainty and standing of each formula that answers name in
        `methods`.

        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Blend several waters.

        Gives salinity, temperature, volume and alkalinity of two or more waters poured
        together, by conservation of mass, salt, heat and alkalinity. With `target`, leave out
        the volume of one water, and the answer says how much of it you need.

        water: One water of the blend; repeat for each. Volume, salinity, temperature and, if
        known, alkalinity and pH (as 8.1 pH), separated by commas.
        target: Salinity the blend should have. The answer gives the volume of the one water
        that has none.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Calculate how much salt to use.

        Gives the salt and source water for a volume of water at the target salinity. If you do
        not give the water content of the product, you get two amounts: `salt` for a dry
        product, the least you can need, and `salt_hydrated` for a fully hydrated mix. Start
        with the smaller one, dissolve it, measure, then add what is missing.

        target: Salinity to reach.
        volume: Volume of finished water. Give a volume or a vessel.
        temperature: Temperature of the finished water; 25 °C if not given.
        source: Salinity of the water you dissolve the salt in; pure water if not given.
        salt_kind: Kind of salt. Sodium chloride alone is never planned as sea water.
        product_water_content: Water in the product, bound or absorbed, as a share of its mass.
        calibration_batch_salt: Mass of the product in your own trial batch.
        calibration_batch_water: Volume of pure water you dissolved the trial batch in.
        calibration_batch_reading: Salinity you read in the trial batch.
        shape: Shape of the vessel. Give a volume or a vessel.
        length: Inner length of a box or bow front; outer if `glass` is given.
        width: Size from front to back; of a bow front, at its ends.
        middle_width: Size of a bow front from front to back at its widest.
        height: Height of the vessel.
        diameter: Diameter of a cylinder.
        top_diameter: Diameter of a bucket at its rim.
        bottom_diameter: Diameter of a bucket at its bottom.
        fill_height: Height of the water; the full height of the vessel if not given.
        glass: Thickness of the glass. If given, all sizes are outer sizes.
        sand_depth: Depth of the sand bed.
        sand_porosity: Share of the sand bed that is water; 40 % if not given.
        rock_mass: Mass of the rock under water.
        rock_density: Density of the rock; 2700 kg/m3 if not given.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Make up for evaporation.

        Says how much fresh water to add, from the missing volume or from the salinity now.
        Water evaporates, and the salt stays. Also says how the salinity drifts if you top off
        with other water.

        volume: Net volume of the tank when full.
        salinity: Salinity of the tank when full.
        missing: Volume that has evaporated. Give this or `salinity_now`.
        salinity_now: Salinity now. Give this or `missing`.
        top_off_water: Salinity of the water you top off with; fresh water if not given.
        evaporation_per_day: Volume that evaporates in a day.
        period: How long you top off this way.
        temperature: Temperature of all waters; 25 °C if not given.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Plan a water change.

        Says how much to change to reach a salinity, or what the new water must be. With
        `target` and `new_water`: how much to take out and put in, and the steps if one would
        be too much. With `change`, a volume you change anyway: the salinity and salt of the
        new water that hold the tank, or bring it to `target`.

        volume: Net volume of the tank.
        salinity: Salinity of the tank now.
        target: Salinity to reach. If not given, the tank stays as it is.
        change: Volume you change anyway.
        new_water: Salinity of the new water you have.
        source: Salinity of the water you dissolve the salt in; pure water if not given.
        temperature: Temperature of all waters; 25 °C if not given.
        greatest_change: Largest change of salinity in one step.
        greatest_share: Largest share of the tank changed in one step.
        product_water_content: Water in the product, bound or absorbed, as a share of its mass.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Search for species.

        Searches by common name (English, German), scientific or older name, initials, plural
        or part of a name, or by a whole question. You can narrow the search by group, family,
        salinity, or the company they can join. `match` says how the name was understood. Only
        `exact` means one species, and text then says what salinity it needs. If several
        species share a name, or a part of one, all are listed. For a misspelled name the
        answer asks whether you mean another. For any other name, `near` lists what comes
        close. `facets` counts what was found.

        q: Any name, or part of one.
        group: Kind of organism.
        family: Scientific family name.
        lives_at: A salinity that at least one life stage is known to live in.
        keeps_with: Only species that can live with this one; repeat for each. An id or a name
        that only it has; a life stage can follow after a colon. Preferred salinities overlap,
        and nothing known of temperature, pH, temper, predation or size speaks against the
        company.
        sort: Order of the answer. If not given: best match first, or by scientific name if
        there is no `q`.
        limit: Most species in one answer; 50 if not given.
        offset: Species to skip at the start; 0 if not given.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Find the water several species share.

        Says whether several species can live together, and in which water. Temper, predation
        and numbers come first. Then come the salinity, temperature and pH that all share at
        their life stage, survived and preferred; who limits each side and by how much; without
        whom the rest would fit; cautions; and what a given water means for each. As CSV it has
        a row for each species.

        species: One species, by its id or by a name that only it has; repeat for each. A life
        stage and a count can follow, each after a colon.
        salinity: Salinity of a water to judge.
        temperature: Temperature of the water to judge.
        ph: pH of the water to judge.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Get one species.

        Gives ranges by life stage, with the source of each value.

        id: The id, made from the scientific name, or a name that only this species has.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Plan the salinity as an animal grows.

        Gives the water an animal needs now and later, and the salinity in between as a curve
        that `home_tank.target_curve` of a transfer plan takes as it is. No source in the table
        says when a stage begins: give the time yourself, or a default is used and named.

        id: The id, made from the scientific name, or a name that only this species has.
        stage: Life stage now. If not given: the first after the larva whose preferred salinity
        is known.
        salinity: Salinity they live in now. If not given: the middle of what the stage
        prefers.
        target: Salinity at the last stage, within what it prefers. If not given: the middle of
        that.
        grown_in: Time until the last stage, 1 to 1000 days. If not given: a year, a default
        proposed here.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Save a transfer.

        Plans as POST /v1/transfers/plan does, and keeps the plan so that you can log readings
        and have it corrected. Without `start` the first drop falls now, and the answer says
        so. The answer has the `id`, with which anyone can read the transfer, and, this once,
        the `key` that changes it; the service keeps only a hash of the key. A transfer is
        deleted 30 days after its plan ends or after the last entry of its log, whichever is
        later. A body may hold 64 kB.

        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body, it stores nothing twice and gets the same answer. With another body it
        is refused. A new transfer's key is repeated for one day, until the transfer first
        changes, and only for a random UUID: another client could pick any other text by
        chance.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Plan a transfer by URL.

        Gives the same plan as POST on this path, from one URL, for one kind of animal. Each
        name is the path of a field in the posted body, joined by underscores. Nothing is
        stored.

        from_salinity: Salinity of the water the animals are in.
        from_temperature: Temperature of the water the animals are in.
        to_salinity: Salinity of the new water.
        to_temperature: Temperature of the new water.
        from_ph: pH of the water the animals are in, to judge its ammonia.
        from_alkalinity: Alkalinity of the water the animals are in, to find its pH in air.
        from_tan: Total ammonia of the water the animals are in.
        from_nitrite: Nitrite of the water the animals are in, with its basis.
        from_hours_in_bag: Time the animals have been in a shipping bag, if they are in one.
        to_ph: pH of the new water.
        to_alkalinity: Alkalinity of the new water.
        to_tan: Total ammonia of the new water.
        to_nitrite: Nitrite of the new water, with its basis. Above 0.2 mg/L N the plan is
        refused.
        room_temperature: Temperature of the air around the container. Without a heater or a
        bath, the container drifts towards it. Oxygen and ammonia are judged at the warmest of
        room and waters.
        container_capacity: Volume the container holds, up to the rim.
        container_freeboard: Volume left empty below the rim; a tenth of the capacity if not
        given.
        container_start_volume: Water in the container at the start.
        container_least_volume: Least volume of water the animals may have.
        container_aerated: Whether an air stone stirs the container. Without one, a drip is
        refused.
        container_heated: Whether a heater holds the temperature of the container.
        container_in_bath: Whether the container stands in a water bath that holds its
        temperature.
        container_overflow: Whether an overflow keeps the container at its start volume, so
        that you pour nothing off.
        container_waste_capacity: Volume of the bucket under the overflow.
        container_shape: Shape of the container, to give levels in centimetres.
        container_length: Inner length of the container.
        container_width: Inner width of the container.
        container_middle_width: Inner width of a bow front at its widest.
        container_height: Inner height of the container.
        container_diameter: Inner diameter of a cylinder.
        container_top_diameter: Inner diameter of a bucket at the rim.
        container_bottom_diameter: Inner diameter of a bucket at the bottom.
        line_drop_volume: Volume of one drop: count the drops that fill 10 mL. If not given,
        the limits are checked for a large drop.
        line_least_drip: Slowest drip your valve can hold.
        line_greatest_drip: Fastest drip that still falls in drops; 4 drops/s if not given.
        line_settings: Most times that you will set the valve, including the first.
        line_tip_diameter: Outer diameter of the end that the drops fall from. Gives the drop
        volume if you leave that out.
        line_bore: Inner diameter of the hose. With length and head, the plan says how soon a
        failed valve fills the container.
        line_length: Length of the hose from end to end.
        line_head: Height at the start from the lower end of the hose up to the source's
        surface. If that end is under water, measure from the surface of the container.
        line_outlet_submerged: Whether the lower end of the hose is under water in the
        container, so that the level there counts too; false if not given.
        line_intake_depth: Depth at the start of the upper end of the hose below the source's
        surface.
        source_tank_volume: Net volume of the tank that feeds the drip.
        source_tank_surface: Surface area of that tank, to find how far its level falls.
        home_tank_volume: Net volume of the tank the animals live in, for a ramp.
        home_tank_source: Salinity of the water you make new water from; pure water if not
        given.
        home_tank_greatest_share: Largest share of the tank in one water change; 30 % if not
        given.
        home_tank_evaporation_per_day: Volume that evaporates in a day.
        home_tank_filter: Whether the ramp must be slow enough for the tank's filter; true if
        not given.
        holding_tanks_volume: Net volume of one holding tank, for a move in stages; 100 L if
        not given.
        holding_tanks_count: How many holding tanks you have; as many as the move takes if not
        given.
        holding_tanks_source: Salinity of the water you make their water from; pure water if
        not given.
        instrument_kind: The instrument you will check with.
        instrument_calibration: The two temperatures that your hydrometer is marked for.
        instrument_scale: What the scale of your refractometer is for.
        instrument_temperature_compensated: Whether your refractometer corrects for temperature
        itself.
        instrument_zero_temperature: Temperature of the pure water in which you set a
        refractometer without compensation to zero; 20 °C if not given.
        instrument_compensation: How your meter compensates for temperature.
        instrument_tds_factor: Factor of a meter that shows dissolved solids.
        instrument_correction: Correction of your instrument, as /v1/conversions/calibration
        gives it.
        tolerance: Difference from the new water that may remain at the release.
        limits_at_once: Largest change of salinity in one step.
        limits_per_hour: Fastest change of salinity, at any moment of a drip.
        limits_per_24_hours: Largest change of salinity in any 24 hours, including any before
        the plan.
        limits_temperature_per_hour: Fastest change of temperature.
        limits_nh3: Highest un-ionized ammonia in the container, as nitrogen.
        limits_oxygen: Lowest oxygen in the container.
        recent_change: Change of salinity in the 24 hours before the plan.
        route: How to move the animals. `auto` chooses and says why.
        start: Time of the first drop. A calendar needs it.
        time_zone: Time zone of your clock, for quiet hours; that of `start` if not given.
        visits_every: Shortest time from one visit to the next.
        visits_first: Shortest time from the start to the first visit. If not given: half an
        hour or `visits_every`, whichever is shorter.
        visits_quiet_from: Time of day when quiet hours begin, in which nobody comes. Needs
        `start`.
        visits_quiet_until: Time of day when quiet hours end.
        to_conditioned: Whether chlorine and chloramine have been removed from the new water.
        stay: How long they stay in the new water, as in quarantine; for good if not given.
        prefer: What a drip should save most. If not given: time, with 15 minutes added for
        each visit.
        feed: What feeds the drip: a jug that you fill with one charge at a time, or a hose in
        the tank.
        species: The species, by its id or by a name that only it has. It sets the sensitivity
        and the water that may be planned for.
        stage: Life stage of the animals.
        count: How many animals are in the container. With their mass, oxygen and ammonia
        become limits too.
        mass: Mass of one animal.
        length: Total length of one fish in the species table, instead of its mass.
        sensitivity: Sensitivity class, which sets the limits. Where that of the species takes
        more care, it holds instead.
        origin: Where the animals come from. `unknown` limits falling salinity as strictly as
        rising.
        condition: Condition of the animals.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Plan a transfer.

        Gives route, phases, checkpoints and limits for moving animals from one water to
        another. Nothing is stored. If no plan can keep the limits, the request is refused; the
        problem names the limit in the way and the smallest change that would free the plan.

        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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

        Deletes the plan and its log for good.

        id: The id given when the transfer was saved.
        if_match: ETag of the transfer as you last read it, in its quotes, or several. If the
        transfer has changed since, the request is refused with 412.
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
        """Get a saved transfer.

        Gives the log, what it shows about container and drip, and the plan in force, whose
        times count from `plan_start`. The id is enough to read.

        id: The id given when the transfer was saved.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Change the start, note or end of a saved transfer.

        Changes only the fields that you send. You can move the start until the first reading
        is logged. After the end you can log what goes wrong, and how the animals and their
        water are: behaviour, temperature, ammonia and nitrite. If you ended it by mistake,
        send `state` as `under_way`. An `end` ahead ends nothing before it comes; a move is
        called off now or earlier.

        id: The id given when the transfer was saved.
        if_match: ETag of the transfer as you last read it, in its quotes, or several. If the
        transfer has changed since, the request is refused with 412.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Get the visits of a saved transfer as a calendar.

        Gives the plan in force as iCalendar (RFC 5545). A calendar that subscribes to it
        follows each correction.

        id: The id given when the transfer was saved.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Get the chart of a saved transfer.

        Draws the plan in force, from `plan_start` on. An extension works too, as in
        /v1/transfers/{id}/chart.png.

        id: The id given when the transfer was saved.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Report what happened and get what to do first.

        Takes whatever goes wrong at the container, in one call: you stop the drip, the animals
        look wrong, the power fails or is back, you are late, somebody touched the clamp, or
        the container or the jug was filled up. `course.now` of the answer says the one thing
        to do first. A report is never refused for anything else in it, not even for an
        impossible time: what cannot be used is left out and named in `course.warnings`. Send
        whatever you read along with it, as for a reading. No plan is computed for it. After a
        stop, after animals look wrong and after a power failure, the drip counts as closed
        from that time, whatever is read later. To go on, make a new plan once they have
        rested; `course.way_on` says when.

        id: The id given when the transfer was saved.
        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body, it stores nothing twice and gets the same answer. With another body it
        is refused. A new transfer's key is repeated for one day, until the transfer first
        changes, and only for a random UUID: another client could pick any other text by
        chance.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Export a saved transfer.

        Gives the whole transfer, to keep. As JSON: the transfer as GET gives it, with every
        stored leg of its plan. As CSV: its log, one entry in each row. Neither holds a key.

        id: The id given when the transfer was saved.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Revoke the helper key.

        Stops the helper key from working. What was logged with it stays.

        id: The id given when the transfer was saved.
        """
        self.fetch("revoke_helper_key",
            id=id)

    def create_helper_key(
        self,
        *,
        id: str,
    ) -> HelperKey:
        """Create a helper key.

        Gives a key with which a helper can log readings and events, and nothing else. You get
        it once. A new key replaces the earlier one, which then stops working.

        id: The id given when the transfer was saved.
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
        """Get what to do now.

        Gives the one thing to do, why, and what comes next by your clock. As text it has
        exactly three lines, and the first makes sense alone in a chat. The answer follows the
        clock of the service and says when a visit is overdue.

        id: The id given when the transfer was saved.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Log a reading and have the plan corrected.

        Judges the reading together with all earlier ones. The answer says how fast the drip
        really runs, what the container holds, and what to do now. A reading that cannot be
        right is named and left out. If the drip runs too fast or too slow, the rest is planned
        again from where the container is; the answer has the new plan, which is now in force.
        A sign of distress stops the plan and gives half a step back; it is never refused for
        anything else in it. Readings may arrive in any order, as from a phone that was
        offline. A transfer holds 10 000 entries.

        id: The id given when the transfer was saved.
        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body, it stores nothing twice and gets the same answer. With another body it
        is refused. A new transfer's key is repeated for one day, until the transfer first
        changes, and only for a random UUID: another client could pick any other text by
        chance.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Restart a stopped transfer.

        Plans the rest of a stopped transfer from what you read now. Until the animals have
        rested (`course.way_on`), the request is refused, and the problem says from when on it
        is taken. After distress the rest counts from the first reading with `behaviour: ok`;
        the restart says how they behave, too. A reading with an `event`, or with a sign of
        distress as `behaviour`, is logged as a report: it is never refused, and nothing starts
        again.

        id: The id given when the transfer was saved.
        idempotency_key: A new random UUID (version 4 or 7) for each request. Sent again with
        the same body, it stores nothing twice and gets the same answer. With another body it
        is refused. A new transfer's key is repeated for one day, until the transfer first
        changes, and only for a random UUID: another client could pick any other text by
        chance.
        curve: Whether the JSON of a plan includes its curve. With `none`, the list `curve` is
        empty and the answer about half as long; nothing else changes.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
        """Calculate how much water a vessel holds.

        Gives the net volume from shape, fill height, glass, sand bed and rock, and the litres
        per centimetre of level.

        shape: Shape of the vessel.
        length: Inner length of a box or bow front; outer if `glass` is given.
        width: Size from front to back; of a bow front, at its ends.
        middle_width: Size of a bow front from front to back at its widest.
        height: Height of the vessel.
        diameter: Diameter of a cylinder.
        top_diameter: Diameter of a bucket at its rim.
        bottom_diameter: Diameter of a bucket at its bottom.
        fill_height: Height of the water; the full height of the vessel if not given.
        glass: Thickness of the glass. If given, all sizes are outer sizes.
        sand_depth: Depth of the sand bed.
        sand_porosity: Share of the sand bed that is water; 40 % if not given.
        rock_mass: Mass of the rock under water.
        rock_density: Density of the rock; 2700 kg/m3 if not given.
        units: Units of text and CSV. If not given, text has both metric and US units. JSON is
        always metric.
        lang: Language of the sentences, as a BCP 47 tag; English if not given.
        Content-Language says which you got. German uses metric units and a decimal comma
        unless `units` and `decimal` say otherwise. Names of fields and enums stay as they are.
        If a part of an answer exists in English alone, all of it is in English. Without
        `decimal`, a volume or mass such as `1.000 L` is refused: it may mean 1 L or 1000 L.
        decimal: Decimal mark in the request and in text and CSV. If it is given, `lang=de`
        refuses no number as unclear.
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
