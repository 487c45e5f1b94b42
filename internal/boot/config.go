// Package boot reads the configuration and wires everything: database, use cases, site, server.
package boot

import (
	"fmt"
	"time"
	_ "time/tzdata" // class times need zones also where the system has none

	"github.com/caarlos0/env/v11"
)

// Config is read from the environment.
type Config struct {
	DatabaseURL string   `env:"DATABASE_URL"`       // as the serving role rungbook_app
	OwnerURL    string   `env:"RUNGBOOK_OWNER_URL"` // as the role that owns the schema; migrates and nothing else
	Addr        string   `env:"RUNGBOOK_ADDR" envDefault:"127.0.0.1:8080"`
	BaseURL     string   `env:"RUNGBOOK_BASE_URL" envDefault:"http://127.0.0.1:8080"`
	StudioName  string   `env:"RUNGBOOK_STUDIO" envDefault:"Our studio"`
	TimeZone    string   `env:"RUNGBOOK_TIME_ZONE" envDefault:"UTC"`
	Proxies     []string `env:"RUNGBOOK_TRUSTED_PROXIES"`    // CIDRs of reverse proxies whose X-Forwarded-For is believed
	Insecure    bool     `env:"RUNGBOOK_PLAIN_HTTP"`         // cookies without TLS; for localhost only
	SecretKey   string   `env:"RUNGBOOK_SECRET_KEY"`         // 32 bytes in base64: seals the secrets of authenticators
	KeysBefore  []string `env:"RUNGBOOK_SECRET_KEYS_BEFORE"` // keys of before, by commas: what they sealed is sealed anew at the start
	SMTP        SMTP     `envPrefix:"RUNGBOOK_SMTP_"`
}

// ReadConfig reads the environment.
func ReadConfig() (Config, error) {
	c, err := env.ParseAs[Config]()
	if err != nil {
		return c, fmt.Errorf("read the configuration: %w", err)
	}
	return c, nil
}

// Zone is the studio's time zone.
func (c Config) Zone() (*time.Location, error) {
	zone, err := time.LoadLocation(c.TimeZone)
	if err != nil {
		return nil, fmt.Errorf("RUNGBOOK_TIME_ZONE: %w", err)
	}
	return zone, nil
}
