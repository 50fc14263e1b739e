# Code generated from openapi.yaml by clients/internal/generate. DO NOT EDIT.
"""The same questions for a program that runs on asyncio.

    from saltlock import aio

    service = aio.Client("http://localhost:8080")
    mix = await service.get_salt_mix(target="1.010 SG", volume="120 gal")

The standard library has no HTTP client for asyncio, so each question waits in a
thread of its own; the event loop goes on meanwhile. Cancelling stops the wait,
not a request that is already under way.
"""

from __future__ import annotations

import asyncio
from typing import Any, Literal, Optional, Union

import saltlock
from saltlock import *


class Client:
    """A service of Saltlock; takes what saltlock.Client takes, with the same defaults."""

    def __init__(self, base_url: Optional[str] = None, **options: Any) -> None:
        self.blocking = saltlock.Client(base_url, **options)
        """The client that the threads ask; its url() needs no thread."""

    async def get_conversion(
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
        """Convert a reading to every measure."""
        return await asyncio.to_thread(
            self.blocking.get_conversion,
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
            decimal=decimal)

    async def convert_readings(
        self,
        body: list[ConversionItem],
        *,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> ConversionsAnswer:
        """Convert many readings."""
        return await asyncio.to_thread(
            self.blocking.convert_readings, body,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_calibration(
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
        """Calibrate an instrument against a known standard."""
        return await asyncio.to_thread(
            self.blocking.get_calibration,
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
            decimal=decimal)

    async def list_methods(
        self,
        *,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> MethodsAnswer:
        """List the formulas in use."""
        return await asyncio.to_thread(
            self.blocking.list_methods,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_blend(
        self,
        *,
        water: list[PortionText],
        target: Optional[ReadingText] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> BlendAnswer:
        """Blend several waters."""
        return await asyncio.to_thread(
            self.blocking.get_blend,
            water=water,
            target=target,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_salt_mix(
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
        """Calculate how much salt to use."""
        return await asyncio.to_thread(
            self.blocking.get_salt_mix,
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
            decimal=decimal)

    async def get_top_off(
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
        """Make up for evaporation."""
        return await asyncio.to_thread(
            self.blocking.get_top_off,
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
            decimal=decimal)

    async def get_water_change(
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
        """Plan a water change."""
        return await asyncio.to_thread(
            self.blocking.get_water_change,
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
            decimal=decimal)

    async def list_species(
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
        """Search for species."""
        return await asyncio.to_thread(
            self.blocking.list_species,
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
            decimal=decimal)

    async def get_compatibility(
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
        """Find the water several species share."""
        return await asyncio.to_thread(
            self.blocking.get_compatibility,
            species=species,
            salinity=salinity,
            temperature=temperature,
            ph=ph,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_species(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SpeciesAnswer:
        """Get one species."""
        return await asyncio.to_thread(
            self.blocking.get_species,
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_species_growth(
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
        """Plan the salinity as an animal grows."""
        return await asyncio.to_thread(
            self.blocking.get_species_growth,
            id=id,
            stage=stage,
            salinity=salinity,
            target=target,
            grown_in=grown_in,
            units=units,
            lang=lang,
            decimal=decimal)

    async def save_transfer(
        self,
        body: TransferRequest,
        *,
        idempotency_key: Optional[str] = None,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Save a transfer."""
        return await asyncio.to_thread(
            self.blocking.save_transfer, body,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_transfer_plan(
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
        """Plan a transfer by URL."""
        return await asyncio.to_thread(
            self.blocking.get_transfer_plan,
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
            decimal=decimal)

    async def plan_transfer(
        self,
        body: TransferRequest,
        *,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> PlanAnswer:
        """Plan a transfer."""
        return await asyncio.to_thread(
            self.blocking.plan_transfer, body,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def delete_transfer(
        self,
        *,
        id: str,
        if_match: Optional[str] = None,
    ) -> None:
        """Delete a saved transfer."""
        return await asyncio.to_thread(
            self.blocking.delete_transfer,
            id=id,
            if_match=if_match)

    async def get_transfer(
        self,
        *,
        id: str,
        curve: Optional[Literal["full", "none"]] = None,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> SavedTransferAnswer:
        """Get a saved transfer."""
        return await asyncio.to_thread(
            self.blocking.get_transfer,
            id=id,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def change_transfer(
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
        """Change the start, note or end of a saved transfer."""
        return await asyncio.to_thread(
            self.blocking.change_transfer, body,
            id=id,
            if_match=if_match,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_transfer_calendar(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> None:
        """Get the visits of a saved transfer as a calendar."""
        return await asyncio.to_thread(
            self.blocking.get_transfer_calendar,
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_transfer_chart(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> None:
        """Get the chart of a saved transfer."""
        return await asyncio.to_thread(
            self.blocking.get_transfer_chart,
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    async def log_event(
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
        """Report what happened and get what to do first."""
        return await asyncio.to_thread(
            self.blocking.log_event, body,
            id=id,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def export_transfer(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> TransferExport:
        """Export a saved transfer."""
        return await asyncio.to_thread(
            self.blocking.export_transfer,
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    async def revoke_helper_key(
        self,
        *,
        id: str,
    ) -> None:
        """Revoke the helper key."""
        return await asyncio.to_thread(
            self.blocking.revoke_helper_key,
            id=id)

    async def create_helper_key(
        self,
        *,
        id: str,
    ) -> HelperKey:
        """Create a helper key."""
        return await asyncio.to_thread(
            self.blocking.create_helper_key,
            id=id)

    async def get_transfer_now(
        self,
        *,
        id: str,
        units: Optional[Literal["metric", "us"]] = None,
        lang: Optional[Literal["en", "de"]] = None,
        decimal: Optional[Literal["point", "comma"]] = None,
    ) -> TransferNow:
        """Get what to do now."""
        return await asyncio.to_thread(
            self.blocking.get_transfer_now,
            id=id,
            units=units,
            lang=lang,
            decimal=decimal)

    async def log_reading(
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
        """Log a reading and have the plan corrected."""
        return await asyncio.to_thread(
            self.blocking.log_reading, body,
            id=id,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def restart_transfer(
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
        """Restart a stopped transfer."""
        return await asyncio.to_thread(
            self.blocking.restart_transfer, body,
            id=id,
            idempotency_key=idempotency_key,
            curve=curve,
            units=units,
            lang=lang,
            decimal=decimal)

    async def get_vessel_volume(
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
        """Calculate how much water a vessel holds."""
        return await asyncio.to_thread(
            self.blocking.get_vessel_volume,
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
            decimal=decimal)

    async def text(self, operation: str, body: Any = None, /, **inputs: Any) -> str:
        """The answer in a few short lines for a person."""
        return await asyncio.to_thread(self.blocking.text, operation, body, **inputs)

    async def number(self, operation: str, only: str, body: Any = None, /, **inputs: Any) -> float:
        """One field of the answer as a bare number, in that field's fixed unit."""
        return await asyncio.to_thread(self.blocking.number, operation, only, body, **inputs)

    async def fetch(self, operation: str, body: Any = None, /, **inputs: Any) -> bytes:
        """The answer as it was sent; format= says in which form."""
        return await asyncio.to_thread(self.blocking.fetch, operation, body, **inputs)
