package testkit

import (
	"io"
	"net"
	"net/url"
	"strconv"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// Trips counts round trips to the database on the wire: how often the program spoke after the server had answered.
type Trips struct {
	lock  sync.Mutex
	count int
}

// Taken is the number of round trips since it was last asked.
func (t *Trips) Taken() int {
	t.lock.Lock()
	defer t.lock.Unlock()
	n := t.count
	t.count = 0
	return n
}

// CountTrips gives an address that leads to the same database by a way on which round trips are counted.
func CountTrips(t testing.TB, address string) (string, *Trips) {
	t.Helper()
	config, err := pgx.ParseConfig(address)
	if err != nil {
		t.Fatalf("read the database address: %v", err)
	}
	gate, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatalf("open a way to the database: %v", err)
	}
	t.Cleanup(func() { gate.Close() })
	trips := &Trips{}
	network, server := pgconn.NetworkAddress(config.Host, config.Port)
	go func() {
		for {
			client, err := gate.Accept()
			if err != nil {
				return // the test has ended
			}
			go trips.carry(client, network, server)
		}
	}()
	counted := url.URL{Scheme: "postgres", User: url.UserPassword(config.User, config.Password), Path: config.Database,
		Host: "127.0.0.1:" + strconv.Itoa(gate.Addr().(*net.TCPAddr).Port), RawQuery: "sslmode=disable"}
	return counted.String(), trips
}

// carry takes one connection to the server and back.
func (t *Trips) carry(client net.Conn, network, address string) {
	defer client.Close()
	server, err := net.Dial(network, address)
	if err != nil {
		return // the program is told by the end of its connection
	}
	defer server.Close()
	answered := true
	go func() {
		copyEach(client, server, func() { answered = true }, &t.lock)
		client.Close()
	}()
	copyEach(server, client, func() {
		if answered {
			t.count++
		}
		answered = false
	}, &t.lock)
}

// copyEach calls seen, under the lock, before it hands on what it read.
func copyEach(to io.Writer, from io.Reader, seen func(), lock *sync.Mutex) {
	buffer := make([]byte, 64<<10)
	for {
		n, err := from.Read(buffer)
		if n > 0 {
			lock.Lock()
			seen()
			lock.Unlock()
			if _, err := to.Write(buffer[:n]); err != nil {
				return
			}
		}
		if err != nil {
			return
		}
	}
}
