/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "explain.h"

#include <assert.h>
#include <string.h>

/* One row a quantity. Models and figures are those of docs/method.md, shortened. */
static const rig_explanation ROWS[] = {
	{"size-options", "parts that carry the loads",
		"Every combination of a price list that brings the wanted share of stays through "
		"and that no other such combination beats: none is at most as dear, as heavy and "
		"as large on the roof.",
		"option a beats b if price, weight and roof of a <= those of b, and one is less",
		{"the list of parts", "limits of price, weight, roof and room",
			"what stays of the present system", "the chance of each"},
		"common practice, no source",
		"Exact over the list and over the stays drawn; which option comes just above the "
		"wanted chance may change with other draws."},
	{"size-chance", "stays that go through with an option, of 100",
		"How many of many drawn stays never run out, in the month that limits the option.",
		"stays without a shortage / stays drawn",
		{"panels and bank of the option", "losses of its inverter", "use by day",
			"drawn weather of the place", "ranges of what the file leaves open"},
		"[WILSON-1927]",
		"The range beside it is the sampling error, at 95 %. All options meet the same "
		"stays, so that their order is surer than each figure."},
	{"size-energy", "energy of an option by month, Wh a day",
		"What the panels bring, what the loads get of it and of the bank, what finds no "
		"room, and what is missing, in the mean of the stays.",
		"harvest + drawn = served + charged + unused",
		{"panels and bank of the option", "use by day", "drawn weather of the place"},
		"[MANWELL-1993]", "A mean: single stays differ by a third and more."},
	{"supply-amps", "amps on a leg or a hot wire, A",
		"What all that is switched on draws through one hot wire of the supply.",
		"amps = |sum of watts and reactive volt-amperes| / volts; continuous loads count "
		"125 %",
		{"watts and power factor of each load", "which leg its circuit is on",
			"what is switched on",
			"the supply's rating, or the cord's if that is less"},
		"[NFPA-70]",
		"From every draw at its low to every draw at its high, which seldom happens "
		"together. "
		"Low volts raise the amps of motors and electronics by about 11 % at 90 %."},
	{"limit-fits", "what fits on a supply",
		"Whether the amps stay within every breaker, hot wire and neutral, and which loads "
		"to "
		"turn off where they do not, least important first.",
		"fits if 100 % of short draws + 125 % of continuous draws <= rating",
		{"priority of each load", "amps of each load",
			"ratings of breakers, cord and supply"},
		"[NFPA-70]",
		"Likely draws decide; high ones make it \"depends\". A sum of figures: it does not "
		"judge wires, joints or a breaker that is worn."},
	{"set-watts", "watts that run together, W",
		"The watts of all that can run at once on that supply.",
		"sum of running watts of what is kept on", {"watts of each load", "what fits"},
		"[NFPA-70]", "As wide as the draws' own ranges taken together."},
	{"charger-draw", "what the battery charger draws, W",
		"A charger at full output draws from the supply what it puts into the battery and "
		"what it loses.",
		"watts = rated amps x charge volts / efficiency",
		{"amps of the charger", "its efficiency, 0.85 where nobody says",
			"14.4 V for each 12 V of its bank"},
		"common practice, no source",
		"Next to nothing when the battery is full; efficiency differs by a tenth."},
	{"start-amps", "amps at the start of a motor, A",
		"A motor that stands still draws several times its running amps for a moment.",
		"on shore: locked-rotor amps on top of the rest, at volts that they pull down; a "
		"generator or inverter is asked for 2 to 5 times the running volt-amperes",
		{"locked-rotor amps of the label", "a soft starter, if there is one",
			"volts and resistance of the supply",
			"surge watts of generator or inverter"},
		"[GEN-2008] [ROOF-UNIT]",
		"A factor of two where no label gives the amps. How long the start takes and how a "
		"generator's volts dip are left out."},
	{"branch-circuits", "branch circuits",
		"How many AC circuits the panel has; the code asks for a supply by their number.",
		"one: its own rating; two to five: 30 A; more: 50 A", {"circuits in the file"},
		"[NFPA-70]", "Exact, if every circuit is in the file."},
	{"shore-volts", "volts at the coach, V",
		"What is left of the pedestal's volts behind its wires, the adapter and the cord, "
		"while the loads draw.",
		"volts = open volts - amps x (site + adapter + cord resistance), solved with loads "
		"that "
		"answer to the volts",
		{"open volts of the pedestal",
			"resistance of the site, 0.03 to 0.25 ohm if unmeasured",
			"length and gauge of cord and adapter", "what is switched on"},
		"[ANSI-C841] [IEC-60028] [MOTOR-VOLTS]",
		"Mostly the site's resistance, which one reading under load settles. Worn contacts "
		"can "
		"take several volts more, and only a reading shows it."},
	{"wire-resistance", "resistance of cord and adapter, ohm",
		"Copper out and back between receptacle and coach.",
		"ohm = 2 x length x resistivity (1 + 0.00393 (T - 20)) / area", {"length", "gauge"},
		"[IEC-60028] [ASTM-B258] [ASTM-B8]",
		"Within 1 % for copper of the printed gauge; plugs and contacts are left out."},
	{"neutral-amps", "amps in the neutral, A",
		"On two hots the neutral carries what the legs do not have in common; on one hot, "
		"all "
		"of it.",
		"two hots: |S1 - S2| / volts; one phase on both: |S1 + S2| / volts",
		{"watts and power factor of the loads by leg"}, "[NFPA-70]",
		"Harmonics of electronics are left out; some add up in a neutral."},
	{"source-watts", "what a generator or inverter gives, W",
		"The label, less what height and heat take from a generator.",
		"generator: rated x (1 - share for height - share for heat); inverter: rated",
		{"watts of the label", "height of the place", "temperature of its hottest month"},
		"[GEN-2004] [GEN-2008] [GEN-SITE]",
		"Makers differ: at 5,000 ft and 104 F their rules leave 82 to 97 %."},
	{"load-watts", "watts of the loads, and where they come from",
		"A figure is measured, read off a label, taken from a profile of such appliances, "
		"or "
		"an estimate. The table counts which.",
		"as given; amps of a label become watts = amps x volts x power factor",
		{"the file", "the table of appliances"}, "[DOE-WATTS] [FSEC-PF344]",
		"A profile's range is what such appliances differ by. A clamp meter narrows it."},

	{"shed-amps", "amps of a day with shedding, A",
		"Random days of thermostats, habits and charging, run from event to event.",
		"mean, highest, and what is not passed 95 % of the time, over the days",
		{"watts and habits of the loads", "weather of the days",
			"the manager's limit and order"},
		"common practice, no source",
		"The days are drawn at random, so another seed moves the figures a little; how "
		"people "
		"use things moves them more."},
	{"shed-off", "times switched off, a day",
		"How often the energy manager drops a load, or keeps from running what is wanted.",
		"dropped when a hot is above the limit for the sensing delay; back when the "
		"restore "
		"delay is served and there is room",
		{"the manager's limit, delays and order", "amps of each load"},
		"common practice, no source",
		"Real managers differ in their delays; the range is over the random days."},
	{"shed-cost", "what shedding costs",
		"Minutes that something was wanted and did not run, and degrees, warm water or "
		"food "
		"that this cost, against the same day without a limit.",
		"points: kelvin-hours outside comfort, cold litres, warm refrigerator hours, each "
		"by "
		"its weight",
		{"priority of each load", "heat loss of the coach"}, "our own measure, no source",
		"A measure to compare orders with, not a fact about people."},
	{"breaker-trip", "whether the breaker trips",
		"A breaker is a strip that warms with the square of the amps. Three of them stand "
		"for "
		"the band that a standard allows.",
		"tau dH/dt = (I / rating)^2 - H; trips when H reaches the square of what it "
		"carries",
		{"amps through the day", "rating of the breaker"}, "[UL-489]",
		"Nobody knows one breaker's time: a quick and a slow one differ by a factor of "
		"five to eight."},

	{"harvest", "solar harvest, Wh a day",
		"What the panels bring to the battery's terminals on a mean day of the month.",
		"light on the panel x nameplate / 1000 x heat x (1 - losses), or the panel's amps "
		"at "
		"the battery's volts behind a plain controller",
		{"watts or size of the panels", "place and month", "tilt and heading", "controller",
			"shade, dirt and wire"},
		"[TMY3] [ROSS-1976] [DESOTO-2006]",
		"Watts, losses, place and year by year, combined as independent: often a third "
		"either "
		"way. One day differs far more."},
	{"standing-draw", "standing draw, Wh a day",
		"What runs the battery down day and night with nobody at a switch.",
		"sum of always-on loads + idle inverter + self-discharge",
		{"watts of what is always on", "idle watts of an inverter that stays on",
			"kind and size of the battery"},
		"[FSEC-PF344]",
		"One reading of the battery's amps with all switched off replaces nearly all of "
		"it."},
	{"solar-level", "what the panel is worth",
		"Falls short: less than the standing draw. Maintains: at least that. Extends: the "
		"chosen use lasts at least a day and a quarter longer. Carries: at most one stay "
		"in "
		"twenty of 14 days runs out.",
		"harvest against standing draw, then days on mean weather, then random stays",
		{"harvest", "standing draw", "use of the loads", "usable Wh of the battery"},
		"[MANWELL-1993] [WILSON-1927]",
		"Given at the poor, the likely and the good side of harvest, bank and draws."},
	{"panel-watts", "panel watts that a level takes, W",
		"The nameplate that would reach the level, on the same mounting and controller.",
		"the least watts that meet the level's condition, found by halving",
		{"harvest for each watt", "standing draw and use", "the battery"}, "[TMY3]",
		"From the good to the poor side; nothing is said above 20,000 W."},
	{"load-day", "a day's use of a load, Wh",
		"What one load takes from the battery in a day, with the inverter's losses.",
		"watts x share that it runs x hours, over the inverter's efficiency for AC",
		{"running watts", "hours of use", "share of the time that it runs"},
		"[SCHMIDT-1996]", "Hours of use are a habit, and differ most."},

	{"usable-wh", "usable from a full battery, Wh",
		"What may be taken out before the battery is called empty.",
		"amp-hours x volts x usable share",
		{"amp-hours of the label", "kind of battery", "its age, if known"},
		"[MANWELL-1993] [PEUKERT-1897]",
		"An old battery may hold half; a timed discharge or two rest voltages tell."},
	{"wanted-day", "wanted a day, Wh",
		"What the loads ask of the battery in a day, with the inverter and its idle draw.",
		"sum over loads of watts x share x hours, inverter losses added",
		{"watts and hours of each load", "which loads the inverter feeds",
			"weather, for furnace and air conditioner"},
		"[SCHMIDT-1996]",
		"Loads are taken to err independently, so the sum is surer than each of them."},
	{"solar-unused", "solar left unused, Wh a day",
		"What the panels offered while the battery was full, too cold or too slow to take "
		"it.",
		"offered - stored - used at once", {"harvest by the hour", "state of charge"},
		"[MANWELL-1993]", "Grows with sunny days and small use."},
	{"inverter-idle", "what the inverter itself takes, Wh a day",
		"An inverter that is on draws power with nothing to feed, and loses some of what "
		"it "
		"feeds.",
		"loss = k0 + k1 ac + k2 ac^2, over rated watts",
		{"idle watts of the label", "rated watts", "hours that it is on"}, "[SCHMIDT-1996]",
		"Labels state the idle draw within a fifth; a clamp on the battery cable tells."},
	{"stay-days", "days without hookups",
		"Hour by hour: what is drawn, what the sun brings, what is left, until something "
		"goes "
		"without.",
		"charge of two wells each hour: charge + stored harvest - what is drawn",
		{"usable Wh", "wanted Wh by the hour", "harvest by the hour",
			"what the battery loses with cold and with fast draws"},
		"[MANWELL-1993] [TMY3] [PARTON-1981]",
		"Poor, likely and good courses. Mean weather hides runs of dull days, which the "
		"share "
		"of stays has in it."},
	{"stays-out", "share of stays that run out",
		"Many stays with weather drawn like the place's, and with what the file leaves "
		"open "
		"drawn from its ranges.",
		"stays in which a house battery falls short / all stays",
		{"weather of place and month", "all ranges of the file", "the battery"},
		"[GRAHAM-1988] [WILSON-1927] [TMY3]",
		"The interval beside it is chance alone, of so many stays. What is wrong in the "
		"file "
		"is wrong in every stay."},
	{"charge-course", "state of charge, %",
		"How full the battery is by the hour: in the middle stay, and between which bounds "
		"half of them and nine in ten lie.",
		"charge / what the battery holds when full",
		{"wanted and harvest by the hour", "capacity"}, "[MANWELL-1993]",
		"Counted in 512 steps, so within 0.2 %."},
	{"days-gained", "days gained without a load",
		"How much longer the battery lasts when this one load stays off, all else the "
		"same.",
		"days until empty without it - days with it", {"Wh of the load at the battery"},
		"[MANWELL-1993]", "Nothing where the battery outlasts the count anyway."},
	{"unserved-wh", "what goes without, Wh a stay",
		"What this load wanted in a stay and did not get, in the mean over the stays.",
		"wanted - served, mean of all stays",
		{"wanted Wh by the hour", "charge by the hour"}, "[MANWELL-1993]",
		"The mean of stays that mostly go well and a few that do not."},
	{"generator-hours", "generator hours and fuel a day",
		"How long the generator runs to keep the battery between its start and stop "
		"levels, "
		"and what that burns.",
		"runs from start level to stop level outside quiet hours; fuel = idle + (full - "
		"idle) x "
		"load / rated",
		{"start and stop levels", "charger amps", "quiet hours",
			"fuel at idle and at full load"},
		"common practice, no source",
		"Half as much either way with habits; starts within an hour are left out."},
	{"more-needed", "more panel or battery that it takes",
		"How much larger the panel, or the battery, would have to be for the share of "
		"stays "
		"that is asked for.",
		"the least size that reaches the share, found by doubling and halving to a "
		"twentieth",
		{"share of stays wanted", "the same stays for each size"}, "[WILSON-1927]",
		"Between the largest size that surely fell short and the smallest that surely did "
		"not."},

	{"meter-draw", "what a load draws by the meter, A",
		"All readings together, held against the labels, say what each load draws.",
		"least sum of ((read - predicted) / sigma)^2 + ((draw - label) / spread)^2",
		{"readings", "which loads were on", "accuracy of the meter",
			"labels, as a soft opinion"},
		"[LAWSON-1974] [SATTERTHWAITE-1946]",
		"The range holds the truth in about 95 of 100. Loads that are always read together "
		"cannot be told apart."},
	{"meter-row", "a reading and what it should have been",
		"Each reading against what all the others say.",
		"(read - predicted by the others) / its standard deviation",
		{"readings", "accuracy of the meter"}, "[LAWSON-1974]",
		"A reading that no other can check is never set aside."},
	{"meter-bank", "what readings say of battery and sources",
		"Standing draw, capacity and charging amps, as read on the DC side.",
		"capacity = amp-hours drawn / share between two rest voltages, or a discharge to "
		"empty "
		"by Peukert's law",
		{"amps and hours", "rest voltages", "kind of battery"},
		"[REST-VOLTS] [PEUKERT-1897]",
		"Rest voltages are good to 0.04 V, which is a tenth of the charge; under a fifth "
		"drawn "
		"nothing is judged."},
	{"meter-panel", "a panel against the sun, A",
		"Amps read out of the controller against what sun, place and hour should give.",
		"clear-sky light on the panel -> watts -> amps at the volts that were read",
		{"date, hour and place", "sky", "panel watts and losses", "battery volts"},
		"[INEICHEN-2002] [HAY-1980]",
		"Haze, clock, dirt and heat each move it; a low sun decides nothing."},

	{"wire-drop", "voltage drop of a run",
		"The share of the volts that the wire keeps for itself.",
		"drop = amps x resistance of the loop / volts; with power factor and reactance on "
		"AC",
		{"amps", "length one way", "gauge", "temperature of the copper"},
		"[IEC-60028] [ASTM-B258] [ASTM-B8]",
		"Joints, switches and fuses take 10 to 50 mV each besides. Vehicle wire may have "
		"up to "
		"11 % less copper."},
	{"wire-ampacity", "what a wire may carry, A",
		"The amps that its insulation bears, less for warm air and for wires that lie "
		"together, and not above what its terminals bear.",
		"ampacity = table x heat x bundle",
		{"gauge", "class of the insulation", "air around it", "conductors together",
			"marking of the terminals"},
		"[NFPA-70] [CFR-183] [ABYC-E11]",
		"Tables are rules, not measurements; an edition in force where the coach stands "
		"may "
		"differ."},
	{"wire-fuse", "fuse or breaker of a wire, A",
		"Large enough for the load, small enough for the wire.",
		"smallest standard rating >= short draws + 125 % of continuous ones, and <= what "
		"the "
		"wire may have",
		{"amps of the load", "ampacity", "standard ratings"}, "[NFPA-70]",
		"Who fits it and which kind it must be is for licensed practice and local codes."},
	{"short-circuit", "current of a shorted battery, A",
		"What a fuse at the battery has to break.",
		"as its maker states; else cold-cranking amps x 2.3 to 5; else by kind and "
		"amp-hours",
		{"maker's figure", "cold-cranking amps", "amp-hours and kind"},
		"[SAE-J537] [ABYC-E11]", "A factor of two either way without its maker's figure."},
	{"diagram", "the one-line diagram",
		"Who feeds whom, with the ratings, gauges and lengths that the file gives.",
		"drawn from the file; what must be there and is not named is marked",
		{"circuits, banks and sources of the file"}, "[IEC-60617] [NFPA-70]",
		"It shows what the file says, not what is in the walls."},
	{"meaning", "what the answers come to",
		"The verdicts of the claims, of shore power, of the solar and of the days away, "
		"each "
		"in one sentence of plain advice.",
		"chosen by each verdict at its likely figures; no figure of its own",
		{"verdict of each study"}, "common practice, no source",
		"As sure as the studies behind it, which also say what may turn it round."},
	{"claim", "what a claim asks for, and what there is",
		"A claim is put into figures: what would have to be there, and what is.",
		"there is / asks for, in the worst month that the claim speaks of",
		{"words of the claim", "the study that it belongs to"}, "[TMY3] [NFPA-70]",
		"As sure as the study behind it; a claim in vague words is taken at its weakest."},
};
enum { N_ROWS = sizeof ROWS / sizeof ROWS[0] };

/* Where each quantity is shown. A star stands for anything, at the beginning or at the end. */
static const struct {
	rig_shown_kind kind;
	const char *words, *within, *id;
} SHOWN[] = {
	{RIG_SHOWN_FACT, "Amps on *", NULL, "shed-amps"},
	{RIG_SHOWN_FACT, "Volts *", NULL, "shore-volts"},
	{RIG_SHOWN_FACT, "Breaker of *", NULL, "breaker-trip"},
	{RIG_SHOWN_FACT, "Inverter of *", NULL, "breaker-trip"},
	{RIG_SHOWN_FACT, "Left of the generator", NULL, "source-watts"},
	{RIG_SHOWN_FACT, "Generator, by itself", NULL, "source-watts"},
	{RIG_SHOWN_FACT, "It starts", NULL, "source-watts"},
	{RIG_SHOWN_FACT, "Energy manager", NULL, "shed-off"},
	{RIG_SHOWN_FACT, "Switched off, a day", NULL, "shed-off"},
	{RIG_SHOWN_FACT, "Battery charger at full output", NULL, "charger-draw"},
	{RIG_SHOWN_FACT, "Branch circuits on AC", NULL, "branch-circuits"},
	{RIG_SHOWN_FACT, "Cord", NULL, "limit-fits"},
	{RIG_SHOWN_FACT, "Cord and adapter", NULL, "wire-resistance"},
	{RIG_SHOWN_FACT, "Everything at once", NULL, "supply-amps"},
	{RIG_SHOWN_FACT, "Hardest start", NULL, "start-amps"},
	{RIG_SHOWN_FACT, "Neutral, everything on", NULL, "neutral-amps"},
	{RIG_SHOWN_FACT, "Pedestal with nothing on", NULL, "shore-volts"},
	{RIG_SHOWN_FACT, "Solar: *", NULL, "harvest"},
	{RIG_SHOWN_FACT, "Standing draw, *", NULL, "standing-draw"},
	{RIG_SHOWN_FACT, "Generator hours a day", NULL, "generator-hours"},
	{RIG_SHOWN_FACT, "Its fuel a day", NULL, "generator-hours"},
	{RIG_SHOWN_FACT, "More panel that this takes", NULL, "more-needed"},
	{RIG_SHOWN_FACT, "Or more battery", NULL, "more-needed"},
	{RIG_SHOWN_FACT, "Solar harvest a day", NULL, "harvest"},
	{RIG_SHOWN_FACT, "Solar left unused, a day", NULL, "solar-unused"},
	{RIG_SHOWN_FACT, "The inverter itself, a day", NULL, "inverter-idle"},
	{RIG_SHOWN_FACT, "Stays that run out*", NULL, "stays-out"},
	{RIG_SHOWN_FACT, "Usable from a full battery", NULL, "usable-wh"},
	{RIG_SHOWN_FACT, "Wanted a day, inverter included", NULL, "wanted-day"},
	{RIG_SHOWN_FACT, "Standing draw of the *", NULL, "meter-bank"},
	{RIG_SHOWN_FACT, "Capacity of the *", NULL, "meter-bank"},
	{RIG_SHOWN_FACT, "Output of the *", NULL, "meter-bank"},
	{RIG_SHOWN_FACT, "Insulation", NULL, "wire-ampacity"},
	{RIG_SHOWN_FACT, "Air around it", NULL, "wire-ampacity"},
	{RIG_SHOWN_FACT, "Ampacity", NULL, "wire-ampacity"},
	{RIG_SHOWN_FACT, "Its terminals bear", NULL, "wire-ampacity"},
	{RIG_SHOWN_FACT, "Copper under load", NULL, "wire-drop"},
	{RIG_SHOWN_FACT, "Its battery, shorted, gives", NULL, "short-circuit"},

	{RIG_SHOWN_COLUMN, "loads", "Where the watts of the loads come from", "load-watts"},
	{RIG_SHOWN_COLUMN, "switched off", "What each appliance goes through", "shed-off"},
	{RIG_SHOWN_COLUMN, "wanted, not running", "What each appliance goes through", "shed-cost"},
	{RIG_SHOWN_COLUMN, "what that costs, a day", "What each appliance goes through",
		"shed-cost"},
	{RIG_SHOWN_COLUMN, "on *", "Starts, with what always draws running beside them",
		"start-amps"},
	{RIG_SHOWN_COLUMN, "locked rotor", "Starts, *", "start-amps"},
	{RIG_SHOWN_COLUMN, "on *", "What does not fit, *", "limit-fits"},
	{RIG_SHOWN_COLUMN, "on *", "Volts at the coach, *", "shore-volts"},
	{RIG_SHOWN_COLUMN, "gives there", "What the other sources run", "source-watts"},
	{RIG_SHOWN_COLUMN, "\"*", "What the other sources run", "limit-fits"},
	{RIG_SHOWN_COLUMN, "runs", "Other choices out of everything, *", "set-watts"},
	{RIG_SHOWN_COLUMN, "together", "What runs together", "set-watts"},
	{RIG_SHOWN_COLUMN, "*", "Panel watts that each level takes, *", "panel-watts"},
	{RIG_SHOWN_COLUMN, "days gained without it", "Where the energy goes*", "days-gained"},
	{RIG_SHOWN_COLUMN, "*", "Where the energy goes*", "load-day"},
	{RIG_SHOWN_COLUMN, "goes without*", "What to cut first*", "unserved-wh"},
	{RIG_SHOWN_COLUMN, "*", "What to cut first*", "stays-out"},
	{RIG_SHOWN_COLUMN, "load", "Runs of wire", "supply-amps"},
	{RIG_SHOWN_COLUMN, "drop", "Runs of wire", "wire-drop"},
	{RIG_SHOWN_COLUMN, "*", "Runs of wire", "wire-fuse"},
	{RIG_SHOWN_COLUMN, "*", "*: what each limit alone asks for", "wire-ampacity"},
	{RIG_SHOWN_COLUMN, "*", "What each load draws at its rated volts*", "meter-draw"},
	{RIG_SHOWN_COLUMN, "*", "Readings that were not used", "meter-row"},
	{RIG_SHOWN_COLUMN, "*", "Solar panels against what the sun should give", "meter-panel"},
	{RIG_SHOWN_COLUMN, "wanted a day", "With another pattern of use", "wanted-day"},
	{RIG_SHOWN_COLUMN, "lasts", "With another pattern of use", "stay-days"},
	{RIG_SHOWN_COLUMN, "*", "With another pattern of use", "stays-out"},
	{RIG_SHOWN_COLUMN, "*", "What to switch off first", "shed-cost"},
	{RIG_SHOWN_COLUMN, "*", "Each claim, *", "claim"},

	{RIG_SHOWN_COLUMN, "of 100 stays", "The options that nothing on the list beats*",
		"size-chance"},
	{RIG_SHOWN_COLUMN, "*", "The options that nothing on the list beats*", "size-options"},
	{RIG_SHOWN_COLUMN, "of 100 stays", "Energy of option *", "size-chance"},
	{RIG_SHOWN_COLUMN, "*", "Energy of option *", "size-energy"},
	{RIG_SHOWN_CHART, "What each option costs, *", NULL, "size-chance"},
	{RIG_SHOWN_CHART, "Amps on each supply *", NULL, "supply-amps"},
	{RIG_SHOWN_CHART, "Amps on that day *", NULL, "shed-amps"},
	{RIG_SHOWN_CHART, "Volts at the coach *", NULL, "shore-volts"},
	{RIG_SHOWN_CHART, "What runs on *", NULL, "shed-off"},
	{RIG_SHOWN_CHART, "What the sun brings, *", NULL, "harvest"},
	{RIG_SHOWN_CHART, "What that can carry, *", NULL, "load-day"},
	{RIG_SHOWN_CHART, "Where a day's energy goes", NULL, "wanted-day"},
	{RIG_SHOWN_CHART, "Stays of *", NULL, "stays-out"},
	{RIG_SHOWN_CHART, "The *", NULL, "charge-course"},

	{RIG_SHOWN_ANSWER, "What does it draw on shore power*", NULL, "limit-fits"},
	{RIG_SHOWN_ANSWER, "What must go off *", NULL, "limit-fits"},
	{RIG_SHOWN_ANSWER, "How many volts *", NULL, "shore-volts"},
	{RIG_SHOWN_ANSWER, "What runs on its other sources*", NULL, "source-watts"},
	{RIG_SHOWN_ANSWER, "What gets switched off*", NULL, "breaker-trip"},
	{RIG_SHOWN_ANSWER, "*what is that worth?", NULL, "solar-level"},
	{RIG_SHOWN_ANSWER, "How long does it last *", NULL, "stay-days"},
	{RIG_SHOWN_ANSWER, "What do the meter's readings say?", NULL, "meter-draw"},
	{RIG_SHOWN_ANSWER, "Do wire, fuse and load go together?", NULL, "wire-fuse"},
	{RIG_SHOWN_ANSWER, "Which wire and which fuse *", NULL, "wire-fuse"},
	{RIG_SHOWN_ANSWER, "Which parts carry these loads here?", NULL, "size-options"},
	{RIG_SHOWN_ANSWER, "How is the coach wired?", NULL, "diagram"},
	{RIG_SHOWN_ANSWER, "Claimed *", NULL, "claim"},
	{RIG_SHOWN_ANSWER, "What it means *", NULL, "meaning"},
};
enum { N_SHOWN = sizeof SHOWN / sizeof SHOWN[0] };

size_t rig_n_explanations(void)
{
	return N_ROWS;
}

const rig_explanation *rig_explanation_at(size_t i)
{
	assert(i < N_ROWS);
	return &ROWS[i];
}

const rig_explanation *rig_explanation_find(const char *id)
{
	for (size_t i = 0; i < N_ROWS; i++)
		if (strcmp(ROWS[i].id, id) == 0)
			return &ROWS[i];
	return NULL;
}

static bool matches(const char *pattern, const char *words)
{
	const size_t n = strlen(pattern), m = strlen(words);
	if (n > 0 && pattern[n - 1] == '*' && strncmp(pattern, words, n - 1) == 0)
		return true;
	if (pattern[0] == '*' && m >= n - 1 && strcmp(pattern + 1, words + m - (n - 1)) == 0)
		return true;
	return strcmp(pattern, words) == 0;
}

const char *rig_explained_by(rig_shown_kind kind, const char *words, const char *within)
{
	for (size_t i = 0; i < N_SHOWN; i++)
		if (SHOWN[i].kind == kind && matches(SHOWN[i].words, words) &&
			(SHOWN[i].within == NULL || matches(SHOWN[i].within, within)))
			return SHOWN[i].id;
	return NULL;
}
