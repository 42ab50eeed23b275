/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/options.h"

#include <ctype.h>
#include <errno.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/suggest.h"
#include "rigbudget/answer.h"

typedef enum { KIND_FLAG, KIND_TEXT, KIND_TEXTS, KIND_WHOLE, KIND_CHOICE, KIND_MONTH } option_kind;

typedef struct {
	const char *name;
	char letter;       /* 0 if it has none */
	const char *value; /* as shown in the help; NULL for a flag */
	const char *help;
	option_kind kind;
	size_t offset;
	long low, high;             /* whole numbers */
	const char *const *choices; /* ends with NULL; the value is the index plus low */
	unsigned with;              /* commands that take any of these bits; 0 means all */
} option_row;

static const char *const FORMATS[] = {"text", "json", "html", "pdf", "csv", "svg", NULL};
static const char *const PAPERS[] = {"letter", "a4", NULL};
static const char *const UNITS[] = {"us", "si", NULL};
static const char *const COPPERS[] = {"awg", "sae", NULL};
static const char *const DETAILS[] = {"brief", "full", NULL};
static const char *const READERS[] = {"buyer", "owner", "shop", NULL};
static const char *const DAYS[] = {"hot", "mild", "cold", NULL};

#define AT(field) offsetof(cli_options, field)
static const option_row OPTIONS[] = {
	{"format", 'f', "text|json|html|pdf|csv|svg",
		"how to write the result; else the ending of -o says it", KIND_CHOICE, AT(format),
		FORMAT_TEXT, 0, FORMATS, TAKES_FORMAT},
	{"output", 'o', "FILE", "write there, else to standard output; a folder for csv, svg",
		KIND_TEXT, AT(output), 0, 0, NULL, TAKES_OUTPUT},
	{"units", 'u', "us|si", "feet and Fahrenheit, or metres and Celsius", KIND_CHOICE,
		AT(units), 0, 0, UNITS, TAKES_FORMAT | TAKES_BATCH},
	{"for", 0, "buyer|owner|shop",
		"whom the sheet is for: its order and depth, not its figures", KIND_CHOICE,
		AT(reader), 0, 0, READERS, TAKES_READER},
	{"date", 0, "TEXT", "the date to print on the sheet; none is printed otherwise", KIND_TEXT,
		AT(date), 0, 0, NULL, TAKES_FORMAT},
	{"inspector", 0, "NAME", "who looked at the coach, for the sheet", KIND_TEXT, AT(inspector),
		0, 0, NULL, TAKES_FORMAT},
	{"paper", 0, "letter|a4", "the paper of a PDF; letter if not given", KIND_CHOICE, AT(paper),
		0, 0, PAPERS, TAKES_FORMAT},
	{"place", 'p', "NAME", "a place of `rigbudget list places`, instead of the file's",
		KIND_TEXT, AT(place), 0, 0, NULL, TAKES_SITE},
	{"place", 'p', "NAME", "where the coach stands: a place of `rigbudget list places`",
		KIND_TEXT, AT(place), 0, 0, NULL, TAKES_NEW},
	{"month", 'm', "MONTH", "the month, by name or number", KIND_MONTH, AT(month), 0, 0, NULL,
		TAKES_MONTH},
	{"days", 'd', "N", "days of the stay", KIND_WHOLE, AT(days), 1, 365, NULL,
		TAKES_STAY | TAKES_SIZE},
	{"run", 'r', "LOAD", "say what must go off so that this load can run", KIND_TEXT,
		AT(let_run), 0, 0, NULL, TAKES_LOAD},
	{"supply", 's', "SUPPLY",
		"50A, 30A, 20A, 15A, generator or inverter; else the coach's own cord", KIND_TEXT,
		AT(supply), 0, 0, NULL, TAKES_DAY},
	{"day", 0, "hot|mild|cold", "the weather of the days; hot if not given", KIND_CHOICE,
		AT(day), 0, 0, DAYS, TAKES_DAY},
	{"days", 'd', "N", "how many random days to run; 200 if not given", KIND_WHOLE, AT(days), 1,
		100000, NULL, TAKES_DAY},
	{"habit", 0, "NAME", "a pattern of use from the file", KIND_TEXT, AT(habit), 0, 0, NULL,
		TAKES_HABIT},
	{"weather", 'w', "FILE", "an hourly year to run through, instead of mean weather",
		KIND_TEXT, AT(weather), 0, 0, NULL, TAKES_WEATHER},
	{"trips", 0, "N", "many stays to try: drawn weather, or days of --weather", KIND_WHOLE,
		AT(trips), 1, 1000000, NULL, TAKES_STAY | TAKES_SIZE},
	{"drawn", 0, NULL,
		"with --weather: draw days like the file's, not its own in another order",
		KIND_FLAG, AT(drawn), 0, 0, NULL, TAKES_STAY},
	{"wanted", 0, "PERCENT", "of stays that may run out; 5 if not given", KIND_WHOLE,
		AT(wanted), 1, 99, NULL, TAKES_STAY | TAKES_SIZE},
	{"drive-every", 0, "N", "drive every N days, so that the alternator charges", KIND_WHOLE,
		AT(drive_every), 1, 365, NULL, TAKES_STAY},
	{"seed", 0, "N", "where the random draws start", KIND_WHOLE, AT(seed), 0, 2147483647, NULL,
		TAKES_STAY | TAKES_SIZE | TAKES_DAY},
	{"threads", 0, "N", "threads that work at once; the answer is the same", KIND_WHOLE,
		AT(threads), 1, 64, NULL, TAKES_STAY | TAKES_SIZE | TAKES_BATCH},
	{"name", 'n', "TEXT", "what to call the coach", KIND_TEXT, AT(name), 0, 0, NULL, TAKES_NEW},
	{"cord", 'c', "AMPS", "15, 20, 30 or 50", KIND_WHOLE, AT(cord), 15, 50, NULL, TAKES_NEW},
	{"load", 'l', "ID[:COUNT]", "an appliance from `rigbudget list appliances`; again for more",
		KIND_TEXTS, AT(loads), 0, 0, NULL, TAKES_NEW},
	{"panel", 0, "WATTS[:BANK]", "nameplate watts on the roof, and house or chassis", KIND_TEXT,
		AT(panel), 0, 0, NULL, TAKES_NEW},
	{"bank", 0, "AH[:KIND]", "amp-hours of the house bank at 12 V, and its chemistry",
		KIND_TEXT, AT(bank), 0, 0, NULL, TAKES_NEW | TAKES_WIRE},
	{"amps", 'a', "AMPS", "what the run carries", KIND_TEXT, AT(amps), 0, 0, NULL, TAKES_WIRE},
	{"run", 0, "LENGTH", "its length one way, such as 12ft or 3.6m", KIND_TEXT, AT(run), 0, 0,
		NULL, TAKES_WIRE},
	{"drop", 0, "PERCENT", "the most that it may lose, such as 3%", KIND_TEXT, AT(drop), 0, 0,
		NULL, TAKES_WIRE},
	{"volts", 0, "VOLTS", "12 unless given; above 60 the rules of 120 and 240 V hold",
		KIND_TEXT, AT(volts), 0, 0, NULL, TAKES_WIRE},
	{"continuous", 0, NULL, "it may flow for three hours or more", KIND_FLAG, AT(continuous), 0,
		0, NULL, TAKES_WIRE},
	{"power-factor", 0, "NUMBER", "real watts over volt-amperes, 1 unless given", KIND_TEXT,
		AT(power_factor), 0, 0, NULL, TAKES_WIRE},
	{"insulation", 0, "TEMP", "what its insulation is rated for, such as 105C or 221F",
		KIND_TEXT, AT(insulation), 0, 0, NULL, TAKES_WIRE},
	{"terminal", 0, "TEMP", "what the terminals are marked for, such as 75C", KIND_TEXT,
		AT(terminal), 0, 0, NULL, TAKES_WIRE},
	{"ambient", 0, "TEMP", "the air around it, such as 40C or 104F", KIND_TEXT, AT(ambient), 0,
		0, NULL, TAKES_WIRE},
	{"bundle", 0, "N", "current-carrying conductors together", KIND_WHOLE, AT(bundle), 1, 100,
		NULL, TAKES_WIRE},
	{"awg", 0, "GAUGE", "the wire that is there, such as 10 or 4/0", KIND_TEXT, AT(awg), 0, 0,
		NULL, TAKES_WIRE},
	{"fuse", 0, "AMPS", "the fuse or breaker that is there", KIND_TEXT, AT(fuse), 0, 0, NULL,
		TAKES_WIRE},
	{"interrupt", 0, "AMPS", "what that fuse can break, beside --bank", KIND_TEXT,
		AT(interrupt), 0, 0, NULL, TAKES_WIRE},
	{"fuse-distance", 0, "LENGTH", "wire from the battery to that fuse, beside --bank",
		KIND_TEXT, AT(fuse_distance), 0, 0, NULL, TAKES_WIRE},
	{"copper", 0, "awg|sae", "the gauge's own area, or the least that vehicle wire may have",
		KIND_CHOICE, AT(copper), 0, 0, COPPERS, TAKES_WIRE},
	{"next-size", 0, NULL, "on AC the next standard breaker above the ampacity will do",
		KIND_FLAG, AT(next_size), 0, 0, NULL, TAKES_WIRE},
	{"ask", 'a', "QUESTIONS", "the questions, parted by commas; shore,solar if not given",
		KIND_TEXT, AT(questions), 0, 0, NULL, TAKES_BATCH},
	{"detail", 0, "brief|full", "the answers, or with them all that stands behind", KIND_CHOICE,
		AT(detail), 0, 0, DETAILS, TAKES_BATCH},
	{"load", 'l', "LOAD|all",
		"an AC load that is to run away from hookups, by id or name; again for more",
		KIND_TEXTS, AT(loads), 0, 0, NULL, TAKES_SIZE},
	{"parts", 0, "FILE", "the shop's list; the invented example if not given", KIND_TEXT,
		AT(parts), 0, 0, NULL, TAKES_SIZE},
	{"months", 0, "MONTHS", "such as nov-feb, or jun,jul, or all, instead of --month",
		KIND_TEXT, AT(months), 0, 0, NULL, TAKES_SIZE},
	{"keep", 0, "PARTS", "what stays as it is, of panels,bank,inverter", KIND_TEXT, AT(keep), 0,
		0, NULL, TAKES_SIZE},
	{"replace", 0, "PARTS", "what goes, of panels,bank,inverter", KIND_TEXT, AT(replace), 0, 0,
		NULL, TAKES_SIZE},
	{"roof", 0, "LENGTHxWIDTH", "the roof's outline, such as 33ftx8ft or 10mx2.4m", KIND_TEXT,
		AT(roof), 0, 0, NULL, TAKES_SIZE},
	{"obstacle", 0, "X,Y,LxW",
		"what stands on it: its corner from the roof's, and its size; again for more",
		KIND_TEXTS, AT(obstacles), 0, 0, NULL, TAKES_SIZE},
	{"gap", 0, "LENGTH", "to be left between panels, and along the roof's edge", KIND_TEXT,
		AT(gap), 0, 0, NULL, TAKES_SIZE},
	{"battery-room", 0, "LxWxH", "where the batteries stand, such as 3ftx18inx12in", KIND_TEXT,
		AT(battery_room), 0, 0, NULL, TAKES_SIZE},
	{"max-price", 0, "PRICE", "in the list's currency", KIND_TEXT, AT(price_max), 0, 0, NULL,
		TAKES_SIZE},
	{"max-weight", 0, "WEIGHT", "of all that is new, such as 500lb or 220kg", KIND_TEXT,
		AT(weight_max), 0, 0, NULL, TAKES_SIZE},
	{"max-area", 0, "AREA", "of new panels, such as 80ft2 or 7.5m2", KIND_TEXT, AT(area_max), 0,
		0, NULL, TAKES_SIZE},
	{"max-panels", 0, "N", "new panels at most; 12 if not given", KIND_WHOLE, AT(most_panels),
		0, 100, NULL, TAKES_SIZE},
	{"max-batteries", 0, "N", "new batteries at most; 12 if not given", KIND_WHOLE,
		AT(most_batteries), 0, 100, NULL, TAKES_SIZE},
	{"runs", 0, "L,L,L", "wire one way: panels to controller, to battery, battery to inverter",
		KIND_TEXT, AT(runs), 0, 0, NULL, TAKES_SIZE},
	{"compare", 0, "N,N", "options to set side by side, up to four", KIND_TEXT, AT(compare), 0,
		0, NULL, TAKES_SIZE},
	{"write-option", 0, "N", "write the rig file with that option's parts in it", KIND_WHOLE,
		AT(write_option), 1, 100000, NULL, TAKES_SIZE},
	{"ask", 'a', NULL, "ask for it all in plain words", KIND_FLAG, AT(ask), 0, 0, NULL,
		TAKES_NEW},
	{"table", 't', "FILE", "readings as comma-separated values", KIND_TEXT, AT(table), 0, 0,
		NULL, TAKES_READINGS},
	{"read", 'r', "WORDS", "a reading, such as \"on=heater leg1_a=12.1\"; again for more",
		KIND_TEXTS, AT(reads), 0, 0, NULL, TAKES_READINGS},
	{"meter", 0, "PERCENT+AMPS", "what the meter may be off; 2+0.2 otherwise", KIND_TEXT,
		AT(meter), 0, 0, NULL, TAKES_READINGS},
	{"accept", 0, NULL, "write the rig file with what was settled in it", KIND_FLAG, AT(accept),
		0, 0, NULL, TAKES_READINGS},
	{"help", 'h', NULL, "show this help", KIND_FLAG, AT(help), 0, 0, NULL, 0},
	{"version", 'V', NULL, "show the version", KIND_FLAG, AT(version), 0, 0, NULL, 0},
};
enum { N_OPTIONS = sizeof OPTIONS / sizeof OPTIONS[0] };

static bool taken(const option_row *row, unsigned takes)
{
	return row->with == 0 || (row->with & takes) != 0;
}

static bool complain(const cli_command *command, const char *what, const char *word)
{
	fprintf(stderr, "rigbudget %s: %s: %s\nTry: rigbudget %s --help\n", command->name, what,
		word, command->name);
	return false;
}

static bool whole_of(const char *word, const option_row *row, long *value)
{
	char *end;
	errno = 0;
	*value = strtol(word, &end, 10);
	return errno == 0 && end != word && *end == '\0' && *value >= row->low &&
	       *value <= row->high;
}

static bool take_choice(const option_row *row, const char *word, int *value)
{
	for (int i = 0; row->choices[i] != NULL; i++) {
		if (strcmp(word, row->choices[i]) == 0) {
			*value = (int)row->low + i;
			return true;
		}
	}
	return false;
}

/* Where the words of an option that may be given often go. */
typedef struct {
	const char **words;
	size_t *n;
} word_list;

static word_list list_of(const option_row *row, cli_options *options)
{
	if (row->offset == AT(loads))
		return (word_list){options->loads, &options->n_loads};
	if (row->offset == AT(reads))
		return (word_list){options->reads, &options->n_reads};
	return (word_list){options->obstacles, &options->n_obstacles};
}

static bool take_text(const option_row *row, const char *word, cli_options *options)
{
	const word_list list = list_of(row, options);
	if (*list.n == MAX_LOADS)
		return false;
	list.words[(*list.n)++] = word;
	return true;
}

static bool take_value(const option_row *row, const char *word, cli_options *options)
{
	void *field = (char *)options + row->offset;
	switch (row->kind) {
	case KIND_FLAG:
		*(bool *)field = true;
		return true;
	case KIND_TEXT:
		*(const char **)field = word;
		return word[0] != '\0';
	case KIND_TEXTS:
		return take_text(row, word, options);
	case KIND_WHOLE:
		return whole_of(word, row, field);
	case KIND_CHOICE:
		return take_choice(row, word, field);
	case KIND_MONTH:
		*(int *)field = rig_month_named(word);
		return *(int *)field >= 0;
	}
	return false;
}

/* What a value must look like, for the sentence about a wrong one. */
static bool complain_value(const cli_command *command, const option_row *row, const char *word)
{
	char what[160];
	if (row->kind == KIND_WHOLE)
		snprintf(what, sizeof what, "--%s takes a whole number from %ld to %ld, not",
			row->name, row->low, row->high);
	else if (row->kind == KIND_TEXTS)
		snprintf(what, sizeof what, "--%s was given more than %d times, last with",
			row->name, MAX_LOADS);
	else if (row->kind == KIND_MONTH)
		snprintf(what, sizeof what, "--%s takes a month such as November, nov or 11, not",
			row->name);
	else
		snprintf(what, sizeof what, "--%s takes %s, not", row->name, row->value);
	return complain(command, what, word[0] == '\0' ? "nothing" : word);
}

static const char *name_at(const void *context, size_t i)
{
	(void)context;
	return OPTIONS[i].name;
}

/* Of options of one name the one that the command takes, else any. */
static const option_row *find_long(const char *name, size_t length, unsigned takes)
{
	const option_row *found = NULL;
	for (size_t i = 0; i < N_OPTIONS; i++) {
		const option_row *row = &OPTIONS[i];
		const bool same =
			strlen(row->name) == length && strncmp(row->name, name, length) == 0;
		if (same && (found == NULL || taken(row, takes)))
			found = row;
	}
	return found;
}

static const option_row *find_letter(char letter, unsigned takes)
{
	const option_row *found = NULL;
	for (size_t i = 0; i < N_OPTIONS; i++) {
		const option_row *row = &OPTIONS[i];
		const bool same = row->letter != 0 && row->letter == letter;
		if (same && (found == NULL || taken(row, takes)))
			found = row;
	}
	return found;
}

static bool complain_unknown(const cli_command *command, const char *word)
{
	const char *near = strncmp(word, "--", 2) == 0
				   ? rig_suggest(word + 2, N_OPTIONS, name_at, NULL)
				   : NULL;
	if (near == NULL)
		return complain(command, "there is no such option", word);
	fprintf(stderr, "rigbudget %s: there is no option %s; did you mean --%s?\n", command->name,
		word, near);
	return false;
}

/* An option as written: its row, and the value in the same word ("--days=7", "-d7"). */
typedef struct {
	const option_row *row;
	const char *value; /* NULL if the word has none */
} option_word;

static option_word take_apart(const char *word, unsigned takes)
{
	if (word[1] != '-')
		return (option_word){
			find_letter(word[1], takes), word[2] != '\0' ? word + 2 : NULL};
	const char *equals = strchr(word, '=');
	const size_t length = equals != NULL ? (size_t)(equals - word) - 2 : strlen(word) - 2;
	return (option_word){
		find_long(word + 2, length, takes), equals != NULL ? equals + 1 : NULL};
}

/* Reads the option at words[*i]; moves *i to its last word. */
static bool read_option(
	const cli_command *command, int n, char **words, int *i, cli_options *options)
{
	const char *word = words[*i];
	option_word option = take_apart(word, command->takes);
	if (option.row == NULL)
		return complain_unknown(command, word);
	if (!taken(option.row, command->takes))
		return complain(command, "this command does not take", word);
	if (option.row->kind == KIND_FLAG) {
		if (option.value != NULL)
			return complain(command, "takes no value", word);
		return take_value(option.row, "", options);
	}
	if (option.value == NULL) {
		if (*i + 1 >= n)
			return complain(command, "a value is missing after", word);
		option.value = words[++*i];
	}
	return take_value(option.row, option.value, options) ||
	       complain_value(command, option.row, option.value);
}

/* Help asked for anywhere is given, whatever else is wrong. */
static bool asks_for_help(int n, char **words)
{
	for (int i = 0; i < n && strcmp(words[i], "--") != 0; i++)
		if (strcmp(words[i], "--help") == 0 || strcmp(words[i], "-h") == 0)
			return true;
	return false;
}

bool options_read(const cli_command *command, int n, char **words, cli_options *options)
{
	*options = (cli_options){.month = -1,
		.seed = -1,
		.most_panels = -1,
		.most_batteries = -1,
		.arguments = words};
	options->help = asks_for_help(n, words);
	bool only_arguments = false;
	for (int i = 0; i < n && !options->help; i++) {
		const char *word = words[i];
		if (!only_arguments && strcmp(word, "--") == 0) {
			only_arguments = true;
		} else if (!only_arguments && word[0] == '-' && word[1] != '\0') {
			if (!read_option(command, n, words, &i, options))
				return false;
		} else if (options->n_arguments == command->most) {
			return complain(command, "there is one word too many", word);
		} else {
			words[options->n_arguments++] = words[i];
		}
	}
	if (!options->help && !options->version && options->n_arguments < command->least)
		return complain(command, "something is missing", command->arguments);
	return true;
}

static void print_option(const option_row *row)
{
	char left[64];
	const int n = row->letter != 0 ? snprintf(left, sizeof left, "-%c, ", row->letter)
				       : snprintf(left, sizeof left, "    ");
	snprintf(left + n, sizeof left - (size_t)n, "--%s%s%s", row->name,
		row->value != NULL ? " " : "", row->value != NULL ? row->value : "");
	/* A long left side gets a line of its own. */
	if (strlen(left) > 25)
		printf("  %s\n%29s%s\n", left, "", row->help);
	else
		printf("  %-27s%s\n", left, row->help);
}

void options_help(unsigned takes)
{
	for (size_t i = 0; i < N_OPTIONS; i++)
		if (taken(&OPTIONS[i], takes))
			print_option(&OPTIONS[i]);
}

size_t option_after(size_t i, unsigned takes, cli_option_words *option)
{
	for (; i < N_OPTIONS; i++) {
		const option_row *row = &OPTIONS[i];
		if (!taken(row, takes))
			continue;
		*option = (cli_option_words){
			row->name, row->letter, row->value, row->help, row->choices};
		return i + 1;
	}
	return 0;
}
