package saltlock_test

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net/http"

	saltlock "saltlock/clients/go"
)

// How much marine salt for 120 gallons at 1.010?
func ExampleNew() {
	c, err := saltlock.New(base, saltlock.Options{}) // base: "http://127.0.0.1:8080"
	if err != nil {
		log.Fatal(err)
	}
	mix, err := c.GetSaltMixWithResponse(context.Background(), &saltlock.GetSaltMixParams{Target: "1.010 SG", Volume: new("120 gal")})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f %s of salt\n", mix.JSON200.Salt.Value, mix.JSON200.Salt.Unit)
	// Output: 6.11 kg of salt
}

// A refusal names every fault at once.
func ExampleProblemError() {
	c, err := saltlock.New(base, saltlock.Options{})
	if err != nil {
		log.Fatal(err)
	}
	_, err = c.GetSaltMixWithResponse(context.Background(), &saltlock.GetSaltMixParams{Target: "1.010", Volume: new("120")})
	var refused *saltlock.ProblemError
	if errors.As(err, &refused) {
		fmt.Println(refused.Status, refused.Type)
		for _, f := range refused.Faults() {
			fmt.Println(f.Where, f.Rule)
		}
	}
	// Output:
	// 400 /problems/invalid-request
	// target quantity
	// volume quantity
}

// A picture goes to a chat or a page by its URL; the request is built, not sent.
func ExampleNewGetTransferPlanRequest() {
	r, err := saltlock.NewGetTransferPlanRequest("https://salt.example", &saltlock.GetTransferPlanParams{
		FromSalinity: "2 ppt", FromTemperature: "26 C", ToSalinity: "10 ppt", ToTemperature: "26 C",
		Format: new(saltlock.GetTransferPlanParamsFormatPng),
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(r.Method == http.MethodGet, r.URL.Path, r.URL.Query().Get("to_salinity"), r.URL.Query().Get("format"))
	// Output: true /v1/transfers/plan 10 ppt png
}
