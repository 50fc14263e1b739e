// Code generated from openapi.yaml by clients/internal/generate. DO NOT EDIT.

/**
 * Saltlock for Google Sheets: SG to ppt for a whole column, how much marine salt,
 * what a tank holds. Paste this file into Extensions > Apps Script, put the address
 * of your server into saltlockServer_ or the script property SALTLOCK_URL, and use
 * the functions below in cells.
 *
 * A range is answered by one call. Answers are kept for six hours.
 */

/** The address of the service. */
function saltlockServer_() {
  var set = PropertiesService.getScriptProperties().getProperty('SALTLOCK_URL');
  return (set || 'https://salt.example').replace(/\/+$/, '');
}

/** Version of the contract that this file was made from. */
var SALTLOCK_VERSION_ = "0.3.0";

/** Most readings in one call: the answer must fit into what a script may fetch. */
var SALTLOCK_BATCH_ = 1000;

/** Seconds for which an answer is kept; the most that the cache allows. */
var SALTLOCK_KEPT_ = 21600;

/** Fields of a conversion that a cell can hold. */
var SALTLOCK_FIELDS_ = ["practical_salinity", "absolute_salinity", "salt_per_litre", "density", "conductivity", "conductivity_25", "refractive_index", "chlorinity", "osmolality", "freezing_point", "oxygen_saturation", ];

/**
 * Converts readings. Practical salinity (PSS-78), ppt.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_PRACTICAL_SALINITY(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("practical_salinity", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Absolute salinity, g/kg.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_ABSOLUTE_SALINITY(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("absolute_salinity", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Sea salt per litre of water at the stated temperature, g/L.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_SALT_PER_LITRE(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("salt_per_litre", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Density, kg/m³.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_DENSITY(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("density", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Conductivity at the temperature of the sample, mS/cm.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_CONDUCTIVITY(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("conductivity", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Conductivity of the same water at 25 °C, mS/cm.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_CONDUCTIVITY_25(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("conductivity_25", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Refractive index at 589.3 nm relative to air, nD.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_REFRACTIVE_INDEX(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("refractive_index", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Chlorinity, g/kg Cl.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_CHLORINITY(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("chlorinity", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Osmolality, mOsm/kg.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_OSMOLALITY(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("osmolality", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Temperature (ITS-90), °C.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_FREEZING_POINT(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("freezing_point", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Converts readings. Dissolved oxygen in balance with moist air at one atmosphere, mg/L.
 *
 * @param {string|number} reading What your instrument shows, with its unit. A cell or a range,
 * with the unit in each cell or in reading_unit.
 * @param {string} reading_unit Unit of bare numbers in reading.
 * @param {string|number} temperature Temperature of the sample. Required for SG, conductivity,
 * g/L, density and refractive index; 25 °C for all others, if not given. A cell or a range,
 * with the unit in each cell or in temperature_unit.
 * @param {string} temperature_unit Unit of bare numbers in temperature.
 * @param {string} instrument The instrument you read. `none`: the reading is right on its
 * scale.
 * @param {string} calibration The two temperatures your hydrometer is marked for.
 * @param {string} scale What the scale of your refractometer is for; seawater if not given.
 * @param {boolean} temperature_compensated Whether your refractometer corrects for temperature
 * itself; true if not given.
 * @param {string|number} zero_temperature Temperature of the pure water in which you set a
 * refractometer without compensation to zero; 20 °C if not given. A cell or a range, with the
 * unit in each cell or in zero_temperature_unit.
 * @param {string} zero_temperature_unit Unit of bare numbers in zero_temperature.
 * @param {string} compensation How your meter compensates for temperature.
 * @param {number} tds_factor Factor of a meter that shows dissolved solids, usually 0.5, 0.64
 * or 0.7. Without it, a reading in ppm is answered for each of the three.
 * @param {string} correction Correction of your instrument, as /v1/conversions/calibration
 * gives it.
 * @return The value, or a text that begins with ? and says what is wrong.
 * @customfunction
 */
function SALTLOCK_OXYGEN_SATURATION(reading, reading_unit, temperature, temperature_unit, instrument, calibration, scale, temperature_compensated, zero_temperature, zero_temperature_unit, compensation, tds_factor, correction) {
  return saltlockConvert_("oxygen_saturation", [
    { name: "reading", kind: "quantity", cells: reading, unit: reading_unit },
    { name: "temperature", kind: "quantity", cells: temperature, unit: temperature_unit },
    { name: "instrument", kind: "text", cells: instrument },
    { name: "calibration", kind: "text", cells: calibration },
    { name: "scale", kind: "text", cells: scale },
    { name: "temperature_compensated", kind: "boolean", cells: temperature_compensated },
    { name: "zero_temperature", kind: "quantity", cells: zero_temperature, unit: zero_temperature_unit },
    { name: "compensation", kind: "text", cells: compensation },
    { name: "tds_factor", kind: "number", cells: tds_factor },
    { name: "correction", kind: "text", cells: correction },
  ]);
}

/**
 * Blend several waters.
 *
 * @param {string} field What to answer: volume, mass, absolute_salinity, practical_salinity, temperature, alkalinity, ph, ph_in_air, density.
 * @param {Array} inputs A range of two or three columns: name, value, and a unit for bare numbers.
 * Names: water (needed), target, units, lang, decimal.
 * @return The number, in the unit that the service names for the field.
 * @customfunction
 */
function SALTLOCK_BLEND(field, inputs) {
  return saltlockAsk_("/v1/mixes/blend", ["volume", "mass", "absolute_salinity", "practical_salinity", "temperature", "alkalinity", "ph", "ph_in_air", "density", ], field, inputs);
}

/**
 * Calculate how much salt to use.
 *
 * @param {string} field What to answer: salt, salt_hydrated, source_water, final_volume, absolute_salinity, practical_salinity, salt_per_litre.
 * @param {Array} inputs A range of two or three columns: name, value, and a unit for bare numbers.
 * Names: target (needed), volume, temperature, source, salt_kind, product_water_content,
 * calibration_batch_salt, calibration_batch_water, calibration_batch_reading, shape, length,
 * width, middle_width, height, diameter, top_diameter, bottom_diameter, fill_height, glass,
 * sand_depth, sand_porosity, rock_mass, rock_density, units, lang, decimal.
 * @return The number, in the unit that the service names for the field.
 * @customfunction
 */
function SALTLOCK_SALT_MIX(field, inputs) {
  return saltlockAsk_("/v1/mixes/salt", ["salt", "salt_hydrated", "source_water", "final_volume", "absolute_salinity", "practical_salinity", "salt_per_litre", ], field, inputs);
}

/**
 * Make up for evaporation.
 *
 * @param {string} field What to answer: salinity_now, fresh_water, salinity_after, drift.
 * @param {Array} inputs A range of two or three columns: name, value, and a unit for bare numbers.
 * Names: volume (needed), salinity (needed), missing, salinity_now, top_off_water,
 * evaporation_per_day, period, temperature, units, lang, decimal.
 * @return The number, in the unit that the service names for the field.
 * @customfunction
 */
function SALTLOCK_TOP_OFF(field, inputs) {
  return saltlockAsk_("/v1/mixes/top-off", ["salinity_now", "fresh_water", "salinity_after", "drift", ], field, inputs);
}

/**
 * Plan a water change.
 *
 * @param {string} field What to answer: take_out, put_in, new_water_salinity, salt, source_water, salinity_after.
 * @param {Array} inputs A range of two or three columns: name, value, and a unit for bare numbers.
 * Names: volume (needed), salinity (needed), target, change, new_water, source, temperature,
 * greatest_change, greatest_share, product_water_content, units, lang, decimal.
 * @return The number, in the unit that the service names for the field.
 * @customfunction
 */
function SALTLOCK_WATER_CHANGE(field, inputs) {
  return saltlockAsk_("/v1/mixes/water-change", ["take_out", "put_in", "new_water_salinity", "salt", "source_water", "salinity_after", ], field, inputs);
}

/**
 * Plan a transfer by URL.
 *
 * @param {string} field What to answer: duration, exact_duration, least_duration.
 * @param {Array} inputs A range of two or three columns: name, value, and a unit for bare numbers.
 * Names: from_salinity (needed), from_temperature (needed), to_salinity (needed),
 * to_temperature (needed), from_ph, from_alkalinity, from_tan, from_nitrite,
 * from_hours_in_bag, to_ph, to_alkalinity, to_tan, to_nitrite, room_temperature,
 * container_capacity, container_freeboard, container_start_volume, container_least_volume,
 * container_aerated, container_heated, container_in_bath, container_overflow,
 * container_waste_capacity, container_shape, container_length, container_width,
 * container_middle_width, container_height, container_diameter, container_top_diameter,
 * container_bottom_diameter, line_drop_volume, line_least_drip, line_greatest_drip,
 * line_settings, line_tip_diameter, line_bore, line_length, line_head, line_outlet_submerged,
 * line_intake_depth, source_tank_volume, source_tank_surface, home_tank_volume,
 * home_tank_source, home_tank_greatest_share, home_tank_evaporation_per_day, home_tank_filter,
 * holding_tanks_volume, holding_tanks_count, holding_tanks_source, instrument_kind,
 * instrument_calibration, instrument_scale, instrument_temperature_compensated,
 * instrument_zero_temperature, instrument_compensation, instrument_tds_factor,
 * instrument_correction, tolerance, limits_at_once, limits_per_hour, limits_per_24_hours,
 * limits_temperature_per_hour, limits_nh3, limits_oxygen, recent_change, route, start,
 * time_zone, visits_every, visits_first, visits_quiet_from, visits_quiet_until,
 * to_conditioned, stay, prefer, feed, species, stage, count, mass, length, sensitivity,
 * origin, condition, curve, units, lang, decimal.
 * @return The number, in the unit that the service names for the field.
 * @customfunction
 */
function SALTLOCK_TRANSFER_PLAN(field, inputs) {
  return saltlockAsk_("/v1/transfers/plan", ["duration", "exact_duration", "least_duration", ], field, inputs);
}

/**
 * Calculate how much water a vessel holds.
 *
 * @param {string} field What to answer: net_volume, gross_volume, volume_per_level, fill_height.
 * @param {Array} inputs A range of two or three columns: name, value, and a unit for bare numbers.
 * Names: shape (needed), length, width, middle_width, height, diameter, top_diameter,
 * bottom_diameter, fill_height, glass, sand_depth, sand_porosity, rock_mass, rock_density,
 * units, lang, decimal.
 * @return The number, in the unit that the service names for the field.
 * @customfunction
 */
function SALTLOCK_VESSEL_VOLUME(field, inputs) {
  return saltlockAsk_("/v1/vessels/volume", ["net_volume", "gross_volume", "volume_per_level", "fill_height", ], field, inputs);
}

/** Answers a field for every reading of a range, in its shape. */
function saltlockConvert_(field, columns) {
  var shape = saltlockRange_(columns[0].cells);
  var width = shape.length && shape[0].length;
  var keys = {};
  var rows = shape.map(function (row, r) {
    return row.map(function (cell, c) {
      if (cell === '' || cell === null || cell === undefined) return null;
      var item = saltlockItem_(columns, shape.length, width, r, c);
      var key = saltlockKey_(item);
      keys[key] = item;
      return key;
    });
  });
  var known = saltlockConversions_(keys);
  var answers = rows.map(function (row) {
    return row.map(function (key) { return key === null ? '' : saltlockCell_(known[key], field); });
  });
  return Array.isArray(columns[0].cells) ? answers : answers[0][0];
}

/** A reading of the batch from the cells at one place; one cell serves all places. */
function saltlockItem_(columns, height, width, r, c) {
  var item = {};
  columns.forEach(function (column) {
    var range = saltlockRange_(column.cells);
    var single = range.length === 1 && range[0].length === 1;
    if (!single && (range.length !== height || range[0].length !== width)) {
      throw new Error(column.name + ' has ' + range.length + ' x ' + range[0].length + ' cells, reading has ' + height + ' x ' + width + '; give one cell or as many');
    }
    var cell = single ? range[0][0] : range[r][c];
    if (cell === '' || cell === null || cell === undefined) return;
    if (column.kind === 'quantity' && typeof cell === 'number') {
      item[column.name] = column.unit ? cell + ' ' + column.unit : String(cell);
    } else if (column.kind === 'number' || column.kind === 'boolean') {
      item[column.name] = cell;
    } else {
      item[column.name] = String(cell);
    }
  });
  return item;
}

/** A range as rows of cells; a sheet gives a single cell without them. */
function saltlockRange_(cells) {
  return Array.isArray(cells) ? cells : [[cells]];
}

/** Finds the conversion of every item by its key: in the cache, and the rest by as few calls as hold them. */
function saltlockConversions_(items) {
  var cache = CacheService.getScriptCache();
  var wanted = Object.keys(items);
  var known = {};
  for (var i = 0; i < wanted.length; i += SALTLOCK_BATCH_) {
    var part = wanted.slice(i, i + SALTLOCK_BATCH_);
    var kept = cache.getAll(part);
    part.forEach(function (key) { if (kept[key]) known[key] = JSON.parse(kept[key]); });
    var missing = part.filter(function (key) { return !known[key]; });
    if (!missing.length) continue;
    var answer = JSON.parse(saltlockFetch_('/v1/conversions', missing.map(function (key) { return items[key]; })));
    var fresh = {};
    missing.forEach(function (key, n) {
      known[key] = saltlockShort_(answer.items[n]);
      fresh[key] = JSON.stringify(known[key]);
    });
    cache.putAll(fresh, SALTLOCK_KEPT_);
  }
  return known;
}

/** What of a conversion cells can show. */
function saltlockShort_(outcome) {
  if (outcome.errors) {
    return { wrong: outcome.errors.map(function (f) { return f.where.replace(/^\//, '') + ': ' + f.reason; }).join('; ') };
  }
  var values = {};
  SALTLOCK_FIELDS_.forEach(function (name) {
    if (outcome.conversion[name]) values[name] = outcome.conversion[name].value;
  });
  return { values: values, warnings: outcome.conversion.warnings.map(function (w) { return w.text; }) };
}

function saltlockCell_(answer, field) {
  if (answer.wrong) return '? ' + answer.wrong;
  if (field in answer.values) return answer.values[field];
  var own = answer.warnings.filter(function (text) { return text.toLowerCase().indexOf(field.replace(/_/g, ' ') + ' is ') === 0; });
  return '? ' + (own.length ? own : answer.warnings).join(' ');
}

/** Answers one field of a question asked by URL. */
function saltlockAsk_(path, fields, field, inputs) {
  if (fields.indexOf(field) < 0) throw new Error('field is "' + field + '"; give one of ' + fields.join(', '));
  var query = saltlockRange_(inputs).filter(function (row) { return row[0] !== '' && row[1] !== ''; }).map(function (row) {
    var value = typeof row[1] === 'number' && row[2] ? row[1] + ' ' + row[2] : String(row[1]);
    return encodeURIComponent(row[0]) + '=' + encodeURIComponent(value);
  });
  query.push('only=' + field, 'format=text');
  var address = path + '?' + query.join('&');
  var cache = CacheService.getScriptCache();
  var key = saltlockKey_(address);
  var text = cache.get(key);
  if (text === null) {
    text = saltlockFetch_(address).trim();
    cache.put(key, text, SALTLOCK_KEPT_);
  }
  return isFinite(text) ? Number(text) : text;
}

/** A name for the cache, which takes no long ones. */
function saltlockKey_(asked) {
  var text = JSON.stringify([SALTLOCK_VERSION_, saltlockServer_(), asked]);
  var digest = Utilities.computeDigest(Utilities.DigestAlgorithm.SHA_256, text, Utilities.Charset.UTF_8);
  return 'saltlock' + digest.map(function (b) { return ('0' + (b & 255).toString(16)).slice(-2); }).join('');
}

/** Asks the service, with a body as JSON. What is refused becomes an error that the cell shows. */
function saltlockFetch_(address, body) {
  var options = { muteHttpExceptions: true, headers: { Accept: '*/*, application/problem+json' } };
  if (body) {
    options.method = 'post';
    options.contentType = 'application/json';
    options.payload = JSON.stringify(body);
  }
  for (var attempt = 0; ; attempt++) {
    var answer = UrlFetchApp.fetch(saltlockServer_() + address, options);
    var status = answer.getResponseCode();
    if (status === 200) return answer.getContentText();
    var wait = saltlockPause_(answer);
    // A cell has 30 s for all its work.
    if ((status !== 429 && status !== 503) || attempt === 2 || wait > 8) throw new Error(saltlockProblem_(answer, wait));
    Utilities.sleep(wait * 1000);
  }
}

/** Seconds that the service asks to be left alone, one if it names none. */
function saltlockPause_(answer) {
  var headers = answer.getHeaders();
  var text = headers['Retry-After'] || headers['retry-after'];
  if (!text) return 1;
  if (/^[0-9]+$/.test(text)) return Number(text);
  var at = Date.parse(text);
  return isNaN(at) ? 1 : Math.max(0, (at - Date.now()) / 1000);
}

/** What is wrong, from the problem document. */
function saltlockProblem_(answer, wait) {
  var status = answer.getResponseCode();
  if (status === 429 || status === 503) return 'Saltlock is busy; ask again in ' + Math.ceil(wait) + ' s';
  try {
    var problem = JSON.parse(answer.getContentText());
    var faults = (problem.errors || []).map(function (f) { return f.where + ': ' + f.reason; });
    return [problem.title].concat(faults.length ? faults : problem.detail || []).join('\n');
  } catch (notJSON) {
    return 'Saltlock answered ' + status;
  }
}
