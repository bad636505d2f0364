package job

import (
	"fmt"
	"strings"
	"time"
)

// Meaning says in a line what a key is for; table and key as Reference gives them. A test holds that every key that the
// reader asks for has its line.
func Meaning(table, key string) string { return meanings()[strings.TrimPrefix(table+"."+key, ".")] }

// meanings are kept as text, a key a line, as a worker would have them explained.
func meanings() map[string]string {
	m := make(map[string]string, 256)
	for line := range strings.Lines(meaningText) {
		if key, says, ok := strings.Cut(strings.TrimSpace(line), " "); ok {
			m[key] = strings.TrimSpace(says)
		}
	}
	for p := range Pace(PaceCount) {
		info := p.Info()
		says := "time for " + info.Per
		if info.Usual > 0 {
			says += fmt.Sprintf("; %s where left out", spell(info.Usual))
		}
		m["labour."+info.Key] = says
	}
	return m
}

// spell writes a span of time as a job file has it: 1h30m.
func spell(d time.Duration) string {
	s := d.String()
	if strings.HasSuffix(s, "m0s") {
		s = s[:len(s)-2]
	}
	if strings.HasSuffix(s, "h0m") {
		s = s[:len(s)-2]
	}
	return s
}

const meaningText = `
title      what the job is called
units      unit of bare numbers, section sizes included; inches where left out
tape       division of the tape that lengths are printed for; 1/16 where left out
currency   what money is counted in; USD where left out

section.NAME.shape      shape of the steel
section.NAME.size       depth x width x wall, or what the shape has; a gauge such as 11ga is the tube's or the sheet's series
section.NAME.grade      standard and grade; the usual one of the shape where left out, and the plan says which
section.NAME.finish     how its skin is bought: cleaning before welding, fumes, paint
section.NAME.tube_seam  inside: the tube's own seam is kept to one face, which leaves fewer ways to lay a piece
section.NAME.sticks     lengths as the yard sells them, with price and limit
section.NAME.price_ft   price of a foot, where sticks have none of their own
section.NAME.price_kg   price of a kilogram
section.NAME.price_cwt  price of a hundredweight (100 lb)
section.NAME.try        other sizes to compare: sag, weight, sticks and price side by side
section.NAME.sticks.length     length of the stick
section.NAME.sticks.price      what one costs
section.NAME.sticks.price_ft   price of a foot of this stick
section.NAME.sticks.price_kg   price of a kilogram of this stick
section.NAME.sticks.price_cwt  price of a hundredweight of this stick
section.NAME.sticks.limit      how many there are at most
section.NAME.sticks.supplier   who sells it; the buy list is grouped by supplier
section.NAME.sticks.date       day on which this was the price; an old price is marked old

on_hand.section  section that the drop or stick is of
on_hand.length   its length from tip to tip
on_hand.qty      how many there are
on_hand.ends     angles of its ends from square, where they are not
on_hand.price    what it counts as costing; nothing where left out

saw.kerf       width of the blade's cut; 1/16 in where left out, and the plan says so
saw.trim       taken off the first end of every stick, its kerf included
saw.trim_end   left unused at the other end
saw.grip       the vise holds no less: the last piece of a stick with its drop is at least this long
saw.swing      the saw's own range in degrees from square, such as [-45, 60]; any angle where left out
saw.reads      square: the scale shows 0 at a square cut; blade: it shows 90
saw.tilts      true: the blade tilts too, and makes compound cuts directly
saw.capacity   height x width that it takes at square
saw.stop_max   longest piece that the stop reaches
saw.keep       a drop at least this long goes back on the shelf
saw.haul       longest part that the vehicle carries: the yard parts longer sticks
saw.yard_trim  lost on each side of the yard's rough cut
saw.yard_cut   what the yard charges for a cut
saw.gang_cut   sticks cut together in a bundle

rectangle.name     its name; its sides are NAME.x1 NAME.x2 NAME.y1 NAME.y2
rectangle.section  what it is made of
rectangle.length   along the first axis of its plane
rectangle.width    along the second
rectangle.plane    xy lies flat, xz stands like a gate, yz stands across
rectangle.at       its outer low corner, x y z
rectangle.above    the rectangle that it stands over, in place of at
rectangle.clear    clear height over that one
rectangle.corner   how the corners are made
rectangle.stand    edge: the section's depth stands across the plane; flat: it lies in it
rectangle.heel     where an angle's or channel's heel is
rectangle.sizes    whether length and width are outside or inside

crossbars.on       the rectangle whose sides they join
crossbars.section  what they are made of
crossbars.count    so many, with equal clear gaps
crossbars.spacing  the fewest bars with no two centres farther apart
crossbars.gap      the fewest bars with no clear gap wider
crossbars.at       centres from the outer face, one by one
crossbars.run      width: parallel to the rectangle's width; length: to its length
crossbars.stand    edge or flat
crossbars.set      bottom, centre or top of the rails
crossbars.offset   from there
crossbars.fit      taken off each bar so that it slips in

posts.from      the rectangle they stand on
posts.to        the one they carry
posts.through   true: one piece past both
posts.section   what they are made of
posts.at        corners, inside-corners, or centres [[x, y], ...] from the rectangle's low corner
posts.per_side  so many along each long side, corners included
posts.inset     from the flush position inwards

legs.under     the rectangle that they carry
legs.section   what they are made of
legs.surface   the surface that their feet are cut to
legs.length    or one length, with square feet
legs.at        as posts
legs.per_side  so many along each long side, corners included
legs.inset     from the flush position inwards
legs.pad       name of a plate under each; its thickness counts
legs.clear     least gap wanted under the frame at the crown
legs.over      one foot is left so much longer, to be scribed on the spot

surface.NAME.chord   one of chord, points, level: width of the arc
surface.NAME.rise    height of the arc over its chord; with chord only
surface.NAME.centre  y of its middle
surface.NAME.top     z of its highest point
surface.NAME.points  or its measured offsets [y, z] or [x, y, z], smoothed
surface.NAME.smooth  how they are smoothed
surface.NAME.level   or z of a flat floor, at x = 0 where it has a slope
surface.NAME.slope   rise along x on top of any

member.name     its name
member.section  what it is made of
member.from     start of its centre line: x y z, or a named place such as lower.x1@24in
member.to       end of its centre line
member.roll     about its own axis from depth upright, right-handed from start to end
member.ends     how each end is cut; auto decides from what it meets
member.over     cut to fit: so much more is reserved, and the true length is asked for at the frame
member.lap      true: it may lie on others without a joint
member.holes    holes along it

piece.mark        its mark; one is given where left out
piece.section     what it is made of
piece.length      from tip to tip
piece.qty         how many
piece.ends        angles from square; the sign says at which edge the tip is
piece.across      face on which the angles are seen
piece.over        cut to fit: so much more is reserved
piece.holes       holes along it
piece.same_stick  pieces with one word come from one stick

plate.name        its name
plate.size        length x width x thickness
plate.at          places or members that it belongs to
plate.qty         how many, where it belongs to none
plate.holes       holes in it
plate.grade       its grade
plate.price       what one costs
plate.holes.at    x, y from the plate's corner
plate.holes.size  diameter

item.name   what is bought
item.qty    how many
item.mass   of one
item.price  of one
item.at     members that it sits on

welder.process        welding process, by its AWS letters
welder.amps           what it is set to
welder.volts          arc voltage
welder.duty           duty at a current, from the rating plate; a list where it gives several points
welder.window         the plate's period; ten minutes where left out
welder.wire           diameter of wire or rod
welder.travel         speed along the seam
welder.deposit        or weld metal laid in an hour of arc
welder.fillet         leg where a joint says nothing
welder.derate         share of the plate's duty that is planned with: dust, hot shop, long cord
welder.wfs            wire feed speed
welder.price          rent or cost of the machine for a day
welder.tack           length of a tack
welder.hours_per_day  time at the booth in a day

joint.between  two members, by name or mark
joint.sides    how many sides are welded, the easiest first; or which: ["top", "left"], of top, bottom, left, right, front, back as the frame stands, and a corner's inside, outside
joint.fillet   leg of the fillet
joint.passes   passes
joint.pattern  intermittent, length-pitch: 2-6
joint.gap      root gap; the pieces are cut shorter for it
joint.dress    true: ground flush afterwards
joint.kind     how the members meet, where the geometry is to be overruled
joint.tack     true: tacks only

sequence.stages  order of the sub-frames and of what follows: names of stages as the plan lists them
sequence.joints  order at the booth: joints (J7, or two members or marks with +), seams (J7.2), members, marks

load.on      members, rectangles, marks, or groups such as "lower bars"
load.load    area load 20psf, line load 30plf, or point load 150lb
load.case    case that it belongs to
load.factor  on all of it
load.at      place of a point load along the member
load.from    start of a stretch along the member
load.to      end of it
load.width   breadth of the strip that an area load comes from; half way to its neighbours, and to the outer face at the edge, where left out
load.total   true: one load shared by all the members named
load.dir     direction; down where left out
load.rides   true: weight of something that is accelerated with the frame

support.at      legs, corners, or places on members
support.fix     directions held: any of xyzXYZ, or all
support.name    for the list of reactions
support.spring  elastic support along the axes named

combination.name     its name
combination.cases    cases with their factors
combination.weight   factor on the frame's own weight
combination.g        acceleration in g, x y z
combination.ride     a standard's road factors, by its clause
combination.forward  direction that it drives in

check.sag        span over the sag that is allowed
check.k          effective length factor of members
check.square     how far out of square: a class of ISO 13920, A to D, or by how much the diagonals may differ; B
check.electrode  strength of the weld metal, ksi

bolts.at            legs, plates or members that are bolted
bolts.each          bolts at each place
bolts.size          thread: 3/8-16 or M10
bolts.grade         SAE J429 grade or ISO 898-1 class
bolts.stack         what lies between head and nut
bolts.flat          flat washers on each bolt
bolts.washer        their kind
bolts.lock          split lock washers on each bolt
bolts.nut           kind of nut
bolts.k             nut factor of the torque
bolts.fraction      share of the proof load that it is tightened to
bolts.edge          from the hole's centre to the nearest edge
bolts.apart         between the bolts at one place
bolts.into          what it goes into
bolts.seal          true: sealed against water
bolts.price         of one bolt
bolts.box           bolts in a box
bolts.box_price     of a box
bolts.nut_price     of one nut
bolts.washer_price  of one flat washer
bolts.lock_price    of one lock washer

lift.by        by hand, sling or jack
lift.people    how many carry
lift.limit     what one of them carries at most
lift.picks     places where slings hold
lift.hook      height of the hook over the picks
lift.angle     of the slings from the horizontal
lift.h         hands out from the ankles, of the lifting equation
lift.v         hands up from the floor
lift.d         travel of the hands up or down
lift.a         twist of the body
lift.f         lifts a minute
lift.hours     hours a day
lift.coupling  how well hands hold
lift.raise     by how much an end is jacked up
lift.jack      members under whose ends the jack stands
lift.grip      friction under the feet that stay
lift.with      mass of what else hangs on it

access.door     clear width and height of the door
access.trailer  width and length of the bed
access.lift     most that is moved at once

paint.coating        paint; galvanise: hot-dipped after welding; none
paint.place          outdoors or indoors: primer and two finish coats, or primer and one
paint.prep           grade of surface preparation, by its standard's name; by the steel's finish where left out
paint.method         how paint is laid on where a coat says nothing: its loss follows from it
paint.ends           what open tube ends get: capped (a plug), welded (a cap), or left open
paint.cap_price      of one plug or cap
paint.galvanise_kg   price of galvanising for a kilogram of steel
paint.thinner_price  of a litre of thinner
paint.extra          share of the area added for what the geometry does not see

paint.primer.name        what is on its tin
paint.primer.solids      solids by volume, from its data sheet
paint.primer.film        dry film of one coat
paint.primer.coats       how many; 0 leaves it out
paint.primer.method      how it is laid on
paint.primer.loss        share of the paint used that is lost; by the method where left out
paint.primer.thin        thinner added, share of the paint's volume
paint.primer.density     of the paint in its tin: what the dry film weighs follows from it
paint.primer.recoat      time before the next coat, from its tin
paint.primer.cure        time before it may be handled and loaded, from its tin
paint.primer.cans.size   what a can holds
paint.primer.cans.price  what it costs

paint.top.name        what is on its tin
paint.top.solids      solids by volume, from its data sheet
paint.top.film        dry film of one coat
paint.top.coats       how many; 0 leaves it out
paint.top.method      how it is laid on
paint.top.loss        share of the paint used that is lost; by the method where left out
paint.top.thin        thinner added, share of the paint's volume
paint.top.density     of the paint in its tin: what the dry film weighs follows from it
paint.top.recoat      time before the next coat, from its tin
paint.top.cure        time before it may be handled and loaded, from its tin
paint.top.cans.size   what a can holds
paint.top.cans.price  what it costs

labour.rate      what an hour costs the shop
labour.rest      unpaid: waiting for the machine is counted, not charged
labour.saw_feed  metal that the saw takes off in a minute
labour.allow     share added to every time, for interruptions
labour.learn     true: hours are reckoned with what the last three jobs really took
labour.day       hours of a working day

quote.customer      who it is for
quote.number        number of the quote
quote.steel         bought: whole sticks are charged; used: the part used, drops worth keeping taken off
quote.drop_value    bought: share of its price that a drop worth keeping is credited with
quote.on_hand       share of the new price that steel from the shop's own rack is charged with
quote.spool         mass of a spool of wire, or of a box of rods
quote.spool_price   what it costs
quote.gas_flow      flow of the shielding gas
quote.bottle        gas in a full bottle
quote.bottle_price  what a filling costs
quote.blade_area    metal that a blade saws before it is dull
quote.blade_price   what a blade costs
quote.disc_time     how long a disc grinds
quote.disc_price    what a disc costs
quote.sundries      a plain amount for what nobody counts
quote.delivery      what bringing it costs
quote.overhead      the shop's own cost (rent, power, tools) as a share
quote.overhead_on   what it is a share of: the labour, or all costs
quote.overhead_hour or an amount for each paid hour
quote.markup        profit as a share of the cost
quote.margin        profit as a share of the price; one of the two
quote.minimum       no job is done for less, before tax
quote.round         prices are rounded to such steps
quote.round_to      up, or to the nearest step
quote.tax           sales tax
quote.tax_on        what it is on: the whole price, the materials, or nothing
quote.tax_round     rounded to the cent on the total, or line by line
quote.offered       a price that somebody offers, before tax: what an hour would pay
quote.many          frames made at one go in the second column
quote.valid_days    days that the quote holds
quote.lead_days     working days from order to delivery
quote.deposit       share of the total that is paid with the order
`
