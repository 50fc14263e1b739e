"""A table of conductivities by pandas over the C library GSW: read, computed, written."""
import sys

import gsw
import pandas

frame = pandas.read_csv(sys.argv[1])
c, t = frame["reading [mS/cm]"].to_numpy(), frame["temperature [C]"].to_numpy()
sp = gsw.SP_from_C(c, t, 0)
sa = sp * 35.16504 / 35
rho = gsw.rho_t_exact(sa, t, 0)
frame["practical_salinity"] = sp
frame["absolute_salinity"] = sa
frame["salt_per_litre"] = sa * rho / 1000
frame["density"] = rho
frame["specific_gravity_25C_25C"] = gsw.rho_t_exact(sa, 25, 0) / gsw.rho_t_exact(0, 25, 0)
frame["conductivity"] = gsw.C_from_SP(sp, t, 0)
frame["conductivity_25"] = gsw.C_from_SP(sp, 25, 0)
frame["chlorinity"] = sp / 1.80655
frame["freezing_point"] = gsw.t_freezing(sa, 0, 1)
frame["oxygen_saturation"] = gsw.O2sol(sa, gsw.CT_from_t(sa, t, 0), 0, 0, 0)
frame.to_csv(sys.argv[2], index=False, float_format="%.5g")
