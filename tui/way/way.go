// Package way lays the stations out in the order in which steel goes through a shop.
package way

import (
	"time"

	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/station/loads"
	"bench.example/soapstone/tui/station/overview"
	"bench.example/soapstone/tui/station/price"
	"bench.example/soapstone/tui/station/record"
	"bench.example/soapstone/tui/station/saw"
	"bench.example/soapstone/tui/station/sketch"
	"bench.example/soapstone/tui/station/slate"
	"bench.example/soapstone/tui/station/square"
	"bench.example/soapstone/tui/station/stock"
	"bench.example/soapstone/tui/station/weld"
)

// Stations gives one of each: the job, the sketch, the stock, the saw, squaring, welding, loads and lift, the price, the
// record, the slate.
func Stations(tables sum.Tables, tell func(d *station.Desk, w work.What) string, zone *time.Location) []station.Station {
	return []station.Station{overview.New(), sketch.New(), stock.New(), saw.New(), square.New(), weld.New(), loads.New(), price.New(), record.New(tell, zone), slate.New(tables)}
}
