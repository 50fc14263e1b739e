package lifesupport

import (
	"errors"
	"math"

	"saltlock/chem/quantity"
)

// Keys in Methods of the container's exchange with its surroundings.
const (
	AirExchangeMethod  = "container-air-exchange"
	HeatExchangeMethod = "container-heat-exchange"
)

// HeldOxygen is the share of saturation above which an air stone is assumed to keep the
// oxygen, as long as it runs and suits the container. From memory.
const HeldOxygen = 0.8

// Engineering estimates for a container in a room, from memory.
const (
	pistonVelocity = 0.4    // of oxygen through a still surface, m/day; 0.2 to 1 is reported, more where fish stir it
	bucketVolume   = 20.0   // L, of the bucket below
	bucketSurface  = 700.0  // cm², of its water, 30 cm wide
	bucketHeatLoss = 3.6    // W/K under a lid: 8 W/(m²·K) over 0.45 m² of wall and surface
	heatPerLitre   = 4130.0 // J/(L·K), within 1 % from fresh to sea water
)

// Care is how the container is kept.
type Care struct {
	Aerated bool
	Held    *quantity.Celsius // by a heater or a bath, from the first moment; nil drifts towards the room
	Room    quantity.Celsius  // ignored if the temperature is held
	PH      quantity.PH       // the highest during the move, by HighestPH
}

var (
	waterTemperature = quantity.Range[quantity.Celsius]{Lo: 0, Hi: 40}
	waterPH          = quantity.Range[quantity.PH]{Lo: 4, Hi: 11}
)

func (c Care) check() error {
	faults := []error{waterPH.Check("from.ph", c.PH)}
	if c.Held != nil {
		faults = append(faults, waterTemperature.Check("temperature", *c.Held))
	} else {
		faults = append(faults, waterTemperature.Check("room_temperature", c.Room))
	}
	return errors.Join(faults...)
}

// airExchange is how much water reaches equilibrium with the air in an hour, L/h, in a
// container with the proportions of a bucket, from its greatest volume.
func airExchange(greatest float64) float64 {
	surface := bucketSurface * math.Pow(greatest/bucketVolume, 2./3)
	return pistonVelocity / 24 * surface / 1e4 * 1000
}

// heatExchange is how much water would reach the temperature of the room in an hour, L/h,
// in a container with the proportions of a bucket.
func heatExchange(volume float64) float64 {
	size := math.Cbrt(volume / bucketVolume)
	return bucketHeatLoss * size * size * 3600 / heatPerLitre
}
