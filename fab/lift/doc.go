// Package lift reckons how a frame is picked up: by slings, by hand, or one end at a time on a jack.
//
// Sling gives the tension in each leg of a bridle; HandLift the lifting index of the revised lifting equation for one
// person; Carry how a weight shares between people at its ends. All of them give figures with formula and source, and
// cautions as text. Nothing here says that a lift is safe: rated gear, a person who knows rigging, and the local rules
// decide that.
package lift
