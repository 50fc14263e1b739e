// Package chem is documentation only: what its packages are and where their
// formulas come from.
//
//	quantity    quantities, units, uncertainty
//	seawater    state of the water
//	instrument  what an instrument really read, and what it would show
//	mixing      mass balances and vessels
//	transfer    the transfer planner
//	tolerance   what a water means for a species
//
// # Bibliography
//
//	[AlAmoudi87]  Al-Amoudi 1987, Acclimation of commercially cultured Oreochromis species to sea water, Aquaculture 65:333-342 (abstract seen; author and year from memory)
//	[CIAAW2021]  Prohaska et al. 2022, Standard atomic weights of the elements 2021 (IUPAC Technical Report), Pure Appl. Chem. 94:573-600 (from memory)
//	[JCGM100]  JCGM 100:2008, Evaluation of measurement data: guide to the expression of uncertainty in measurement (GUM) (from memory)
//	[Lemarie04]  Lemarie, Baroiller, Clota, Lazard and Dosdat 2004, A simple test to estimate the salinity resistance of fish, Aquaculture 240:575-587 (abstract seen)
//	[McGraw02]  McGraw, Davis, Teichert-Coddington and Rouse 2002, Acclimation of Litopenaeus vannamei postlarvae to low salinity, J. World Aquaculture Soc. 33:78-84 (abstract seen)
//	[Millero2008]  Millero, Feistel, Wright and McDougall 2008, The composition of Standard Seawater and the definition of the Reference-Composition Salinity Scale, Deep-Sea Res. I 55:50-72
//	[NISTSP811]  Thompson and Taylor 2008, Guide for the use of the International System of Units (SI), NIST Special Publication 811 (from memory)
//	[Pethiyagoda19]  Pethiyagoda, Alwis and De Silva 2019, Salinity tolerance of wild Poecilia reticulata under laboratory conditions, Int. J. Multidisciplinary Studies 6(2) (abstract seen; year from memory)
//	[TEOS10]  IOC, SCOR and IAPSO 2010, The international thermodynamic equation of seawater, IOC Manuals and Guides 56
//	[Velifera21]  Tolerance to salinity and its effect on development of velifera molly, J. Applied Aquaculture 2021, doi 10.1080/10454438.2021.1970076 (abstract seen; authors not shown)
package chem
