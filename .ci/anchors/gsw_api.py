"""The conversion of a conductivity as a FastAPI service over the C library GSW."""
import gsw
from fastapi import FastAPI, Query

app = FastAPI()


def number(text: str) -> float:
    return float(text.split("(")[0].split()[0])


@app.get("/v1/conversions")
def conversions(reading: str = Query(max_length=60), temperature: str = Query(max_length=60)):
    t = number(temperature)
    sp = float(gsw.SP_from_C(number(reading), t, 0))
    sa = sp * 35.16504 / 35
    ct = gsw.CT_from_t(sa, t, 0)
    rho = float(gsw.rho_t_exact(sa, t, 0))
    gravity = {
        f"{sample}/{water}": float(gsw.rho_t_exact(sa, sample, 0) / gsw.rho_t_exact(0, water, 0))
        for sample, water in [(15.556, 15.556), (15, 15), (15, 4), (20, 20), (20, 4), (25, 25), (25, 4)]
    }
    return {
        "practical_salinity": {"value": sp, "unit": "ppt"},
        "absolute_salinity": {"value": sa, "unit": "g/kg"},
        "salt_per_litre": {"value": sa * rho / 1000, "unit": "g/L"},
        "density": {"value": rho, "unit": "kg/m³"},
        "specific_gravity": gravity,
        "conductivity": {"value": float(gsw.C_from_SP(sp, t, 0)), "unit": "mS/cm"},
        "conductivity_25": {"value": float(gsw.C_from_SP(sp, 25, 0)), "unit": "mS/cm"},
        "chlorinity": {"value": sp / 1.80655, "unit": "g/kg"},
        "freezing_point": {"value": float(gsw.t_freezing(sa, 0, 1)), "unit": "°C"},
        "oxygen_saturation": {"value": float(gsw.O2sol(sa, ct, 0, 0, 0)), "unit": "umol/kg"},
    }
