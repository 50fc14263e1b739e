package site

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"
)

// robots allows everything to be read and says where the list of pages is.
func (s *Site) robots(c echo.Context) error {
	return c.String(http.StatusOK, "User-agent: *\nAllow: /\nSitemap: "+s.Base+"/sitemap.xml\n")
}

// sitemap lists the pages for search engines (sitemaps.org, protocol 0.9): those with a permanent
// address, and one for each species.
func (s *Site) sitemap(c echo.Context) error {
	paths := []string{"/plan", "/species", "/embed"}
	for path := range s.pages {
		paths = append(paths, path)
	}
	species, err := s.speciesPaths(s.asks(c))
	if err != nil {
		return err
	}
	paths = append(paths, species...)
	slices.Sort(paths)
	type place struct {
		Location string `xml:"loc"`
	}
	all := struct {
		XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
		Places  []place  `xml:"url"`
	}{}
	for _, path := range slices.Compact(paths) {
		all.Places = append(all.Places, place{s.Base + path})
	}
	text, err := xml.MarshalIndent(all, "", " ")
	if err != nil {
		return fmt.Errorf("write the sitemap: %w", err)
	}
	c.Response().Header().Set("Cache-Control", "public, max-age=3600")
	return c.XMLBlob(http.StatusOK, text) // it adds the XML declaration
}

// speciesPaths are the pages of all species, as the list of the service has them.
func (s *Site) speciesPaths(ask asker) ([]string, error) {
	const most = 100 // on one page of the list
	var paths []string
	for offset := 0; ; offset += most {
		at := fmt.Sprintf("/v1/species?limit=%d&offset=%d", most, offset)
		status, body := ask(http.MethodGet, at, nil)
		var page struct{ Species []struct{ ID string } }
		if status != http.StatusOK {
			return nil, fmt.Errorf("list species for the sitemap: %s answers %d", at, status)
		}
		if err := json.Unmarshal(body, &page); err != nil {
			return nil, fmt.Errorf("list species for the sitemap: %w", err)
		}
		for _, one := range page.Species {
			paths = append(paths, "/species/"+one.ID)
		}
		if len(page.Species) < most {
			return paths, nil
		}
	}
}
