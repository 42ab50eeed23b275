/* SPDX-License-Identifier: GPL-3.0-or-later */
/* main.c: finds the command, or says what there is. */
#include <cjson/cJSON.h>
#include <gsl/gsl_version.h>
#include <stdio.h>
#include <string.h>

#include "base/suggest.h"
#include "cli/commands.h"
#include "cli/spell_out.h"
#include "rigbudget/init.h"

static const cli_command COMMANDS[] = {
	{"check", "FILE", "read a rig file, say what is wrong in it and what does not hold",
		"Reads the file and lists every fault with its place. When it reads well, says "
		"what\n"
		"was assumed, and which circuits or named sets of loads exceed what feeds them.\n"
		"Exit status 0 when all holds, 1 when something does not, 3 when the file is "
		"wrong.",
		"rigbudget check samples/upgrade-fifth-wheel.rig.json", 1, 1, 0, run_check},
	{"shore", "FILE", "what runs together on 50 A, 30 A, 20 A and 15 A, volts and starts",
		"Adds up the loads by circuit, leg, main and neutral for each named set of loads "
		"on\n"
		"each supply; says what fits, what to turn off, and which supply each set needs;\n"
		"how many volts reach the coach, what the generator and the inverter run, and\n"
		"whether each motor starts.",
		"rigbudget shore samples/diesel-coach.rig.json --run water-heater", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_LOAD, run_shore},
	{"shed", "FILE",
		"what the energy manager switches off in a day, and whether a breaker trips",
		"Runs random days of thermostats, habits and charging against the limit of a "
		"supply:\n"
		"what is switched off and for how long, what that costs in comfort, whether the "
		"main\n"
		"breaker trips first, and which order of switching off would be better.",
		"rigbudget shed samples/diesel-coach.rig.json --supply 30A --day hot", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_DAY | TAKES_HABIT, run_shed},
	{"claims", "FILE", "what the seller says of the coach, held against its figures",
		"Answers each claim of the file: it holds, it holds only if, it cannot be said "
		"before\n"
		"something is measured, or it does not hold; with the figures that decide it, and "
		"the\n"
		"months and places in which it changes.",
		"rigbudget claims samples/diesel-coach.rig.json", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_HABIT, run_claims},
	{"solar", "FILE", "what the solar panel is worth, month by month",
		"Works out what reaches the battery each month, sets it against what the battery\n"
		"loses standing still, and climbs a ladder of loads as far as the panel can carry.",
		"rigbudget solar samples/week-trailer.rig.json --place Flagstaff", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_MONTH | TAKES_HABIT, run_solar},
	{"trip", "FILE", "days without hookups: when the battery gives out, and why",
		"Runs the bank hour by hour through a stay in mean weather and through many stays\n"
		"of drawn weather, or through the hours of a year from a file: TMY3, EPW, or\n"
		"columns month, day, hour, ghi_w_m2, dni_w_m2, dhi_w_m2, temp_c (see\n"
		"docs/energy-balance.md). With --trips the file's own days are put together in\n"
		"many other orders, for the chance of running out.",
		"rigbudget trip samples/week-trailer.rig.json --month May --days 7", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_STAY | TAKES_MONTH |
			TAKES_WEATHER | TAKES_HABIT,
		run_trip},
	{"size", "FILE",
		"an upgrade: which panels, batteries and inverter will do, off a parts list",
		"Tries all combinations of a price list (see docs/parts-file.md) on many stays of "
		"drawn\n"
		"weather, and gives those that reach the wanted chance and that no other beats in "
		"price,\n"
		"weight and roof area, with controllers, charging, wires and fuses. Without "
		"--parts a\n"
		"list of invented parts is used. --write-option writes the rig file of one of "
		"them.",
		"rigbudget size samples/upgrade-fifth-wheel.rig.json --months jun-aug --wanted "
		"10",
		1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_MONTH | TAKES_HABIT | TAKES_SIZE,
		run_size},
	{"readings", "FILE", "what a meter's readings say of each load, the battery and the panel",
		"Takes the readings of the file, of a table (--table) and of the command line\n"
		"(--read), and finds what each load really draws, with its doubt; which loads are\n"
		"not what their labels say; what cannot be told apart, and which reading would\n"
		"tell. With --accept it writes the file anew with the figures that were settled.",
		"rigbudget readings samples/week-trailer.rig.json \\\n"
		"    --read \"on=water-heater,microwave leg1_a=22.5 volts_v=118\" \\\n"
		"    --read \"on=microwave leg1_a=10.4 volts_v=119\"",
		1, 1, TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_READINGS, run_readings},
	{"wiring", "[FILE]", "which wire and which fuse, or whether those that are there will do",
		"Without FILE: the thinnest standard wire and the smallest standard fuse for a "
		"run, or\n"
		"with --awg and --fuse whether those that are there will do. With FILE: every wire "
		"in it\n"
		"and every circuit with a gauge. Looks at voltage drop, ampacity, terminals, the "
		"fuse that\n"
		"the wire may have, and what that has to break at a battery (--bank).",
		"rigbudget wiring --amps 40 --run 12ft --drop 3%", 0, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_WIRE, run_wiring},
	{"oneline", "FILE", "the one-line diagram of the coach, with ratings and wire sizes",
		"Draws sources, transfer, panels by leg, breakers and fuses, wires and loads from "
		"what\n"
		"the file states; as text it is an indented tree of the same, with --format html "
		"a\n"
		"drawing for screen and paper.",
		"rigbudget oneline samples/upgrade-fifth-wheel.rig.json", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT, run_oneline},
	{"report", "FILE", "the whole finding sheet",
		"Everything that the file allows, on one sheet: plain sentences first, the "
		"figures\n"
		"next, what was assumed and the cautions last.",
		"rigbudget report samples/diesel-coach.rig.json --format json", 1, 1,
		TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_STAY | TAKES_MONTH |
			TAKES_WEATHER | TAKES_HABIT | TAKES_READER,
		run_report},
	{"compare", "BEFORE AFTER",
		"two coaches, or two dates of one: what differs and what it does",
		"Reads two coach files and says what differs in them, key by key; which answers of "
		"the\n"
		"finding sheet change; and the main figures before and after, with their doubt.",
		"rigbudget compare samples/week-trailer.rig.json \\\n"
		"    samples/upgrade-fifth-wheel.rig.json",
		2, 2, TAKES_FORMAT | TAKES_OUTPUT | TAKES_SITE | TAKES_STAY | TAKES_MONTH,
		run_compare},
	{"batch", "[FILE ...]", "many coaches: one line of JSON for each",
		"Reads coach files, or without FILE one coach a line from standard input, and\n"
		"writes for each one line of JSON, in order: the answers to the questions of\n"
		"--ask with their cautions, or the faults of a coach in its place. Blank lines of\n"
		"the input are passed over. Any number of threads gives the same lines. Exit\n"
		"status 3 when there was a coach that could not be answered. See\n"
		"docs/many-coaches.md.",
		"rigbudget batch --ask shore,solar samples/week-trailer.rig.json \\\n"
		"    samples/diesel-coach.rig.json",
		0, ANY_NUMBER, TAKES_BATCH | TAKES_SITE | TAKES_STAY | TAKES_MONTH | TAKES_HABIT,
		run_batch},
	{"list",
		"appliances|places|batteries|panels|supplies|conductors|ratings|schema|parts-"
		"schema|parts-example [WORD]",
		"the figures that fill what a file leaves open",
		"Prints a table of profiles with their ranges and sources; only the rows that "
		"hold\n"
		"WORD, if it is given. `schema` prints the JSON Schema of the rig file, "
		"`parts-schema`\n"
		"that of a parts file, and `parts-example` the list of invented parts that comes "
		"with\n"
		"the program.",
		"rigbudget list appliances fridge", 1, 2, TAKES_OUTPUT, run_list},
	{"new", "", "write a rig file to start from",
		"Writes a rig file made of what you say; the rest is filled from profiles when "
		"the\n"
		"file is used. Without options, or with --ask, it asks on a terminal, in plain "
		"words,\n"
		"for what can be seen: labels, glass, cells, sizes; where nobody can answer it "
		"writes\n"
		"a small coach to edit.",
		"rigbudget new --name \"Our trailer\" --cord 30 --place Flagstaff \\\n"
		"    --load roof_ac_13k5 --load microwave_800 --load led_light:6 --panel 40:house",
		0, 0, TAKES_OUTPUT | TAKES_NEW, run_new},
};
enum { N_COMMANDS = sizeof COMMANDS / sizeof COMMANDS[0] };

static const char *name_at(const void *context, size_t i)
{
	(void)context;
	return COMMANDS[i].name;
}

static const cli_command *find(const char *name)
{
	for (size_t i = 0; i < N_COMMANDS; i++)
		if (strcmp(COMMANDS[i].name, name) == 0)
			return &COMMANDS[i];
	return NULL;
}

static void print_overview(FILE *to)
{
	fputs("rigbudget: what a coach draws on shore power, and what its solar panel is worth\n\n"
	      "Usage: rigbudget COMMAND [OPTION ...] [FILE]\n\n",
		to);
	for (size_t i = 0; i < N_COMMANDS; i++)
		fprintf(to, "  %-10s%s\n", COMMANDS[i].name, COMMANDS[i].summary);
	fputs("\nrigbudget COMMAND --help says more. FILE may be - for standard input.\n\n"
	      "Example: rigbudget report samples/diesel-coach.rig.json -o sheet.html\n\n"
	      "Exit status: 0 fine, 1 a check found what does not hold, 2 wrong usage,\n"
	      "3 wrong input, 4 a file could not be read or written.\n",
		to);
}

static void print_version(void)
{
	printf("rigbudget %s\nGSL %s\ncJSON %s\n"
	       "Licence GPL-3.0-or-later; there is no warranty, to the extent that the law "
	       "allows.\n",
		RIG_VERSION, gsl_version, cJSON_Version());
}

static void print_help(const cli_command *command)
{
	printf("rigbudget %s: %s\n\nUsage: rigbudget %s [OPTION ...] %s\n\n%s\n\nOptions:\n",
		command->name, command->summary, command->name, command->arguments, command->about);
	options_help(command->takes);
	printf("\nExample:\n  %s\n", command->example);
}

/* All words that do not name a command. */
static int run_without_command(const char *word)
{
	if (word == NULL) {
		print_overview(stderr);
		return EXIT_USAGE;
	}
	if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || strcmp(word, "help") == 0) {
		print_overview(stdout);
		return EXIT_FINE;
	}
	if (strcmp(word, "--version") == 0 || strcmp(word, "-V") == 0) {
		print_version();
		return EXIT_FINE;
	}
	const char *near = rig_suggest(word, N_COMMANDS, name_at, NULL);
	fprintf(stderr, "rigbudget: there is no command %s%s%s%s\nTry: rigbudget --help\n", word,
		near != NULL ? "; did you mean " : "", near != NULL ? near : "",
		near != NULL ? "?" : "");
	return EXIT_USAGE;
}

static int run_command(const cli_command *command, int n, char **words)
{
	cli_options options;
	if (!options_read(command, n, words, &options))
		return EXIT_USAGE;
	if (options.help) {
		print_help(command);
		return EXIT_FINE;
	}
	if (options.version) {
		print_version();
		return EXIT_FINE;
	}
	return command->run(&options);
}

/* Words of which the second names what is meant: `help COMMAND`, and for the build
 * `--spell-out KIND [DATE]`. -1 if they are no such words. */
static int run_pair(int n, char **words)
{
	if (n < 2)
		return -1;
	if (strcmp(words[0], "help") == 0) {
		const cli_command *command = find(words[1]);
		if (command == NULL)
			return run_without_command(words[1]);
		print_help(command);
		return EXIT_FINE;
	}
	if (strcmp(words[0], "--spell-out") == 0) {
		const cli_commands all = {N_COMMANDS, COMMANDS};
		return spell_out(&all, words[1], n > 2 ? words[2] : "") ? EXIT_FINE : EXIT_USAGE;
	}
	return -1;
}

static int run_words(int n, char **words)
{
	const int status = run_pair(n, words);
	if (status >= 0)
		return status;
	const cli_command *command = n > 0 ? find(words[0]) : NULL;
	return command != NULL ? run_command(command, n - 1, words + 1)
			       : run_without_command(n > 0 ? words[0] : NULL);
}

int main(int argc, char **argv)
{
	rig_init();
	const int status = run_words(argc > 0 ? argc - 1 : 0, argv + 1);
	if (fflush(stdout) != 0 || ferror(stdout)) {
		fputs("rigbudget: standard output could not be written\n", stderr);
		return EXIT_FILES;
	}
	return status;
}
