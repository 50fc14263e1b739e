// Package chem is documentation only: what its packages are and where their
// formulas come from.
//
//	quantity    quantities, units, uncertainty
//	seawater    state of the water
//	instrument  what an instrument really read, and what it would show
//	mixing      mass balances and vessels
//	drip        the optimum of a drip, on plain numbers
//	ramp        water changes of a tank over days, on plain numbers
//	transfer    the transfer planner: request, rules, route, plan
//	followup    a plan under way: what the log says, what to do now
//	lifesupport oxygen, ammonia and warmth in a closed volume with animals
//	hydraulics  open lines, drops, and how a drip drifts
//	tolerance   what a water means for a species
//
// # Glossary
//
// Each word has one meaning, in code and in text for people.
//
//	act           what a keeper does at a time: set the valve, pour off, refill, release
//	charge        new water put into the jug at once
//	cup           a measured share of new water, added at once
//	deficit       gap times mass, which dripping leaves unchanged
//	difference    how far the animals' water is from the target; gap in code
//	gap           salinity of the water minus that of the target, signed
//	hold          the wait after a change, before the next one
//	holding tank  a tank between two waters, where animals rest for days
//	leg           a stretch of drip between two acts
//	line          the hose from the new water to the container, with its valve
//	margin        how far a limit is from being broken; below 0 once it is
//	obstacle      why the optimiser finds no schedule, typed
//	pour-off      water taken out of the container, to make room
//	problem       what the optimiser is asked, in numbers
//	route         how they get there: direct, drip, cups, ramp, staged, combined, or out of the bag first
//	schedule      the legs and acts that solve a problem
//	setting       a rate that the valve can be set to
//	stage         a life stage of an animal, never a part of a plan
//	step          a change the animals take at once; in text also a numbered line of a plan
//	tolerance     the difference that may be left at the release
//	visit         a time at which the keeper is at the container, for one act or several
//
// # Bibliography
//
//	[AlAmoudi87]  Al-Amoudi 1987, Acclimation of commercially cultured Oreochromis species to sea water, Aquaculture 65:333-342 (abstract seen; author and year from memory)
//	[BeardWeyl1973]  Beard and Weyl 1973, Influence of texture on porosity and permeability of unconsolidated sand, AAPG Bull. 57:349-369 (title and last page from memory)
//	[BensonKrause1984]  Benson and Krause 1984, The concentration and isotopic fractionation of oxygen dissolved in freshwater and seawater in equilibrium with the atmosphere, Limnol. Oceanogr. 29:620-632
//	[Blasius1913]  Blasius 1913, Das Ähnlichkeitsgesetz bei Reibungsvorgängen in Flüssigkeiten, VDI Forschungsheft 131 (from memory)
//	[BowerBidwell1978]  Bower and Bidwell 1978, Ionization of ammonia in seawater: effects of temperature, pH and salinity, J. Fish. Res. Board Can. 35:1012-1016
//	[BarShalom2001]  Bar-Shalom, Li and Kirubarajan 2001, Estimation with Applications to Tracking and Navigation, Wiley, ISBN 0-471-41655-X (from memory)
//	[BrettZala1975]  Brett and Zala 1975, Daily pattern of nitrogen excretion and oxygen consumption of sockeye salmon (Oncorhynchus nerka) under controlled conditions, J. Fish. Res. Board Can. 32:2479-2486 (abstract seen; title from memory)
//	[CIAAW2021]  Prohaska et al. 2022, Standard atomic weights of the elements 2021 (IUPAC Technical Report), Pure Appl. Chem. 94:573-600 (from memory)
//	[Chandrupatla1997]  Chandrupatla 1997, A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function without using derivatives, Adv. Eng. Softw. 28:145-149 (from memory)
//	[ClarkeJohnston1999]  Clarke and Johnston 1999, Scaling of metabolic rate with body mass and temperature in teleost fish, J. Anim. Ecol. 68:893-905 (abstract seen)
//	[CleggWhitfield1995]  Clegg and Whitfield 1995, A chemical model of seawater including dissolved ammonia and the stoichiometric dissociation constant of ammonia in estuarine water and seawater from -2 to 40 °C, Geochim. Cosmochim. Acta 59:2403-2421
//	[CRC102]  CRC Handbook of Chemistry and Physics, 102nd edition 2021, Concentrative properties of aqueous solutions (after Wolf 1966)
//	[Deslauriers2017]  Deslauriers et al. 2017, Fish Bioenergetics 4.0: an R-based modeling application, Fisheries 42:586-596 (title from memory; parameters seen)
//	[Dickson1990]  Dickson 1990, Thermodynamics of the dissociation of boric acid in synthetic seawater, Deep-Sea Res. 37:755-766, and Standard potential of the reaction AgCl(s) + 1/2 H2(g), J. Chem. Thermodyn. 22:113-127 (titles from memory)
//	[DicksonRiley1979]  Dickson and Riley 1979, The estimation of acid dissociation constants in seawater media from potentiometric titrations with strong base II, Mar. Chem. 7:101-109 (from memory)
//	[Emerson1975]  Emerson, Russo, Lund and Thurston 1975, Aqueous ammonia equilibrium calculations: effect of pH and temperature, J. Fish. Res. Board Can. 32:2379-2383
//	[Froese2014]  Froese, Thorson and Reyes 2014, A Bayesian approach for estimating length-weight relationships in fishes, J. Appl. Ichthyol. 30:78-85 (from memory)
//	[GarciaGordon1992]  Garcia and Gordon 1992, Oxygen solubility in seawater: better fitting equations, Limnol. Oceanogr. 37:1307-1312
//	[HarkinsBrown19]  Harkins and Brown 1919, The determination of surface tension (free surface energy), and the weight of falling drops, J. Am. Chem. Soc. 41:499-524 (from memory)
//	[Hill1986]  Hill, Dauphinee and Woods 1986, The extension of the Practical Salinity Scale 1978 to low salinities, IEEE J. Oceanic Eng. OE-11:109-112
//	[IAPWS08]  IAPWS R13-08, Release on the IAPWS Formulation 2008 for the Thermodynamic Properties of Seawater
//	[IAPWS09]  IAPWS SR7-09, Supplementary Release on a Computationally Efficient Thermodynamic Formulation for Liquid Water for Oceanographic Use
//	[IAPWS14]  IAPWS R1-76(2014), Revised Release on Surface Tension of Ordinary Water Substance (from memory)
//	[IAPWS19]  IAPWS G14-19, Guideline on the Surface Tension of Seawater (from memory)
//	[ISO1768]  ISO 1768:1975, Glass hydrometers: conventional value for the thermal cubic expansion coefficient
//	[ISO7888]  ISO 7888:1985, Water quality: determination of electrical conductivity (table of f25 from a meter's manual)
//	[JCGM100]  JCGM 100:2008, Evaluation of measurement data: guide to the expression of uncertainty in measurement (GUM) (from memory)
//	[Kester1967]  Kester, Duedall, Connors and Pytkowicz 1967, Preparation of artificial seawater, Limnol. Oceanogr. 12:176-179
//	[Khoo1977]  Khoo, Culberson and Bates 1977, Thermodynamics of the dissociation of ammonium ion in seawater from 5 to 40 °C, J. Solution Chem. 6:281-290
//	[Kinyage2019]  Kinyage, Pedersen and Pedersen 2019, Effects of abrupt salinity increase on nitrification processes in a freshwater moving bed biofilter, Aquacultural Engineering 84:91-98 (abstract seen)
//	[Lee2010]  Lee et al. 2010, The universal ratio of boron to chlorinity for the North Pacific and North Atlantic oceans, Geochim. Cosmochim. Acta 74:1801-1811 (title from memory)
//	[Lemarie04]  Lemarie, Baroiller, Clota, Lazard and Dosdat 2004, A simple test to estimate the salinity resistance of fish, Aquaculture 240:575-587 (abstract seen)
//	[McGraw02]  McGraw, Davis, Teichert-Coddington and Rouse 2002, Acclimation of Litopenaeus vannamei postlarvae to low salinity, J. World Aquaculture Soc. 33:78-84 (abstract seen)
//	[MillardSeaver1990]  Millard and Seaver 1990, An index of refraction algorithm for seawater over temperature, pressure, salinity, density, and wavelength, Deep-Sea Res. 37:1909-1926
//	[Millero1995]  Millero 1995, Thermodynamics of the carbon dioxide system in the oceans, Geochim. Cosmochim. Acta 59:661-677 (title from memory)
//	[Millero2008]  Millero, Feistel, Wright and McDougall 2008, The composition of Standard Seawater and the definition of the Reference-Composition Salinity Scale, Deep-Sea Res. I 55:50-72
//	[Millero2010]  Millero 2010, Carbonate constants for estuarine waters, Mar. Freshw. Res. 61:139-142
//	[NISTSP811]  Thompson and Taylor 2008, Guide for the use of the International System of Units (SI), NIST Special Publication 811 (from memory)
//	[Pethiyagoda19]  Pethiyagoda, Alwis and De Silva 2019, Salinity tolerance of wild Poecilia reticulata under laboratory conditions, Int. J. Multidisciplinary Studies 6(2) (abstract seen; year from memory)
//	[Sharqawy2010]  Sharqawy, Lienhard and Zubair 2010, Thermophysical properties of seawater: a review of existing correlations and data, Desalin. Water Treat. 16:354-380
//	[TEOS10]  IOC, SCOR and IAPSO 2010, The international thermodynamic equation of seawater, IOC Manuals and Guides 56
//	[UNESCO44]  Fofonoff and Millard 1983, Algorithms for computation of fundamental properties of seawater, UNESCO Technical Papers in Marine Science 44
//	[USP1101]  United States Pharmacopeia, general chapter <1101> Medicine Dropper
//	[Velifera21]  Tolerance to salinity and its effect on development of velifera molly, J. Applied Aquaculture 2021, doi 10.1080/10454438.2021.1970076 (abstract seen; authors not shown)
//	[Venice1958]  Symposium on the Classification of Brackish Waters, Venice 1958, Archivio di Oceanografia e Limnologia 11 (1959), supplement
//	[Weiss1974]  Weiss 1974, Carbon dioxide in water and seawater: the solubility of a non-ideal gas, Mar. Chem. 2:203-215 (title from memory)
package chem
