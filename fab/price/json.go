package price

// HoursJSON is the hours of `plan --json`.
type HoursJSON struct {
	PlannedS   float64        `json:"planned_s"`
	PaidS      float64        `json:"paid_s"`
	Activities []ActivityJSON `json:"activities"`
}

// ActivityJSON is one activity. Taken and done are of the part that the record tells of; past is the median of the last jobs.
type ActivityJSON struct {
	Activity  string  `json:"activity"`
	PlannedS  float64 `json:"planned_s"`
	PaidS     float64 `json:"paid_s"`
	Shared    bool    `json:"shared"`
	DoneS     float64 `json:"done_planned_s"`
	TookS     float64 `json:"done_took_s"`
	PastRatio float64 `json:"past_ratio"`
	PastJobs  int     `json:"past_jobs"`
}

// JSON gives the hours for scripts.
func (h *Hours) JSON() *HoursJSON {
	o := &HoursJSON{PlannedS: float64(h.PlanS), PaidS: float64(h.PaidS), Activities: []ActivityJSON{}}
	for _, e := range h.Entries {
		o.Activities = append(o.Activities, ActivityJSON{string(e.Activity), float64(e.PlanS), float64(e.PaidS), e.Shared, float64(e.DoneS), float64(e.TookS), e.PastX, e.PastOf})
	}
	return o
}

// JSON is the price of `plan --json`: the quote of one frame, and beside it that of several made at one go.
type JSON struct {
	OneJSON
	Many      *OneJSON `json:"many"`    // null where it is not asked for, or cannot be cut
	Offered   *OneJSON `json:"offered"` // at [quote] offered
	Unpriced  []string `json:"unpriced"`
	ValidDays int      `json:"valid_days"`
	LeadDays  int      `json:"lead_days"`
}

// OneJSON is one quote.
type OneJSON struct {
	Frames    int        `json:"frames"`
	Lines     []LineJSON `json:"lines"`
	Materials float64    `json:"materials"`
	Labour    float64    `json:"labour"`
	Overhead  float64    `json:"overhead"`
	Cost      float64    `json:"cost"` // and the break-even price
	Profit    float64    `json:"profit"`
	Markup    float64    `json:"markup"`
	Margin    float64    `json:"margin"`
	Price     float64    `json:"price"`
	PriceEach float64    `json:"price_each"`
	Minimum   bool       `json:"minimum_charge"` // the minimum charge decided
	Tax       float64    `json:"tax"`
	Total     float64    `json:"total"`
	Deposit   float64    `json:"deposit"`
	Balance   float64    `json:"balance"`
	Floor     float64    `json:"floor"` // below it the shop pays for the job
	HourPays  float64    `json:"hour_pays"`
	AnyHour   float64    `json:"hour_pays_rests_too"`
	PaidS     float64    `json:"paid_s"`
}

// LineJSON is one cost.
type LineJSON struct {
	Kind string  `json:"kind"`
	Name string  `json:"name"`
	Qty  string  `json:"qty"`
	Cost float64 `json:"cost"`
	Sold float64 `json:"sold"` // its share of the price
}

// JSON gives the quote for scripts.
func (q *Quote) JSON() OneJSON {
	o := OneJSON{Frames: q.Frames, Lines: []LineJSON{}, Materials: q.Material.Float(), Labour: q.Labour.Float(), Overhead: q.Overhead.Float(), Cost: q.Cost.Float(), Profit: q.Profit.Float(),
		Markup: q.Markup.Float(), Margin: q.Margin.Float(), Price: q.Price.Float(), PriceEach: q.Each.Float(), Minimum: q.AtLeast, Tax: q.Tax.Float(), Total: q.Total.Float(), Deposit: q.Deposit.Float(),
		Balance: q.Balance.Float(), Floor: q.OutOfHand.Float(), HourPays: q.EarnsHour.Float(), AnyHour: q.EarnsAll.Float(), PaidS: float64(q.PaidS)}
	sold := q.Sold()
	for i, l := range q.Lines {
		o.Lines = append(o.Lines, LineJSON{string(l.Kind), l.Name, l.Qty, l.Cost.Float(), sold[i].Float()})
	}
	return o
}

// QuoteJSON gives the price object; quotes holds at least one.
func QuoteJSON(quotes []Quote, offered *Quote, unpriced []string, valid, lead int) *JSON {
	o := &JSON{OneJSON: quotes[0].JSON(), Unpriced: append([]string{}, unpriced...), ValidDays: valid, LeadDays: lead}
	if len(quotes) > 1 {
		m := quotes[1].JSON()
		o.Many = &m
	}
	if offered != nil {
		x := offered.JSON()
		o.Offered = &x
	}
	return o
}
