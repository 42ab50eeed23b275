/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pack.c: checks the files in profiles/ and writes them as C tables. `pack PROFILES OUT` writes
 * OUT/profile_tables.c and OUT/place_tables.c, or says what is wrong and writes nothing. */
#include "pack.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"

typedef enum {
	TEXT,   /* at least one character */
	ID,     /* TEXT, unique in its list */
	NUMBER, /* within limits */
	COUNT,  /* a whole NUMBER */
	FIGURE, /* NUMBER or three of them in order */
	FLAG,
	WORD,  /* one of a list of words */
	GAUGE, /* "12" or "4/0" */
	CHECK  /* NUMBER that is checked and not carried over */
} field_kind;

typedef struct {
	const char *word, *constant;
} word;

/* One key of an entry. A key with `absent` may be missing or null and then stands for that C
 * text ("" leaves the field zero). */
typedef struct {
	const char *key;
	field_kind kind;
	double limits[2];
	const char *absent;
	const word *words;
	const char *field; /* name in C if it is not the key */
	double scale;      /* NUMBER: C value per JSON value, if not 1 */
} field;

typedef struct {
	const char *file, *type;
	const field *fields;
	size_t n_fields;
	void (*check)(const pack *p, const cJSON *entry, const cJSON *before);
} layout;

static const word SUPPLY[] = {{"ac", "RIG_AC"}, {"dc", "RIG_DC"}, {0}};
static const word BEHAVIOUR[] = {{"resistive", "RIG_RESISTIVE"}, {"electronic", "RIG_ELECTRONIC"},
	{"motor", "RIG_MOTOR"}, {"compressor", "RIG_COMPRESSOR"}, {0}};
static const word BASIS[] = {
	{"read", ""}, {"from memory", ""}, {"common practice", ""}, {0}}; /* checked only */

static const field APPLIANCE[] = {
	{"id", .kind = ID},
	{"label", .kind = TEXT},
	{"supply", .kind = WORD, .words = SUPPLY},
	{"behaviour", .kind = WORD, .words = BEHAVIOUR},
	{"volts_v", .kind = NUMBER, .limits = {12, 240}},
	{"running_w", .kind = FIGURE, .limits = {0.01, 6000}},
	{"running_a", .kind = CHECK, .limits = {0.005, 400}},
	{"power_factor", .kind = FIGURE, .limits = {0.3, 1},
		.absent = "{1, 1, 1, RIG_FROM_PROFILE, 0, 0}"},
	{"start_a", .kind = FIGURE, .limits = {0.1, 1000}, .absent = ""},
	{"duty_frac", .kind = FIGURE, .limits = {0.01, 1}},
	{"daily_use_h", .kind = FIGURE, .limits = {0.001, 24}},
	{"heat_w", .kind = FIGURE, .limits = {-20000, 40000}, .absent = ""},
	{"continuous", .kind = FLAG},
	{"always_on", .kind = FLAG},
	{"shed_first", .kind = FLAG},
	{"priority", .kind = COUNT, .limits = {1, 9}},
	{"basis", .kind = WORD, .words = BASIS},
	{"source", .kind = TEXT},
};
static const field CHEMISTRY[] = {
	{"id", .kind = ID},
	{"label", .kind = TEXT},
	{"cell_group_v", .kind = NUMBER, .limits = {12, 12.8}},
	{"usable_frac", .kind = FIGURE, .limits = {0.05, 1}},
	{"charge_efficiency_frac", .kind = FIGURE, .limits = {0.5, 1}},
	{"self_discharge_frac_month", .kind = FIGURE, .limits = {0, 0.3}},
	{"bulk_limit_c_rate", .kind = FIGURE, .limits = {0.01, 5}, .absent = ""},
	{"acceptance_per_h", .kind = FIGURE, .limits = {0.05, 10}, .absent = ""},
	{"peukert_exponent", .kind = FIGURE, .limits = {1, 1.5}},
	{"kinetic_c_frac", .kind = FIGURE, .limits = {0.05, 1}},
	{"kinetic_k_per_h", .kind = FIGURE, .limits = {0.01, 10}},
	{"charge_floor_c", .kind = NUMBER, .limits = {-60, 30}, .absent = "-273"},
	{"capacity_per_k_frac", .kind = NUMBER, .limits = {0, 0.03}},
	{"source", .kind = TEXT},
};
static const field PANEL[] = {
	{"id", .kind = ID},
	{"label", .kind = TEXT},
	{"density_wm2", .kind = FIGURE, .limits = {20, 260}},
	{"temp_coefficient_per_k", .kind = FIGURE, .limits = {-0.008, 0}},
	{"noct_c", .kind = FIGURE, .limits = {35, 60}},
	{"roof_rise_k", .kind = FIGURE, .limits = {0, 30}},
	{"source", .kind = TEXT},
};
static const field SUPPLIES[] = {
	{"id", .kind = ID},
	{"label", .kind = TEXT},
	{"breaker_a", .kind = NUMBER, .limits = {10, 100}},
	{"n_hots", .kind = COUNT, .limits = {1, 2}},
	{"volts_v", .kind = NUMBER, .limits = {100, 130}},
	{"source", .kind = TEXT},
};
static const double M_PER_1000_FT = 304.8;
static const field CONDUCTOR[] = {
	{"awg", .kind = GAUGE},
	{"area_mm2", .kind = NUMBER, .limits = {0.1, 200}},
	/* 1000 m / 304.8 m */
	{"ohm_per_1000_ft_75c", .kind = NUMBER, .limits = {0.01, 50}, .field = "ohm_per_km_75c",
		.scale = 1 / 0.3048},
	{"ampacity_60c_a", .kind = NUMBER, .limits = {0, 1000}},
	{"ampacity_75c_a", .kind = NUMBER, .limits = {0, 1000}},
	{"ampacity_90c_a", .kind = NUMBER, .limits = {0, 1000}},
	{"ampacity_105c_12v_a", .kind = NUMBER, .limits = {0, 1000}},
	{"small_conductor_limit_a", .kind = NUMBER, .limits = {0, 30}},
	{"source", .kind = TEXT},
};
static const field RATING[] = {
	{"rating_a", .kind = NUMBER, .limits = {0.5, 1000}},
	{"breaker", .kind = FLAG},
	{"fuse", .kind = FLAG},
	{"source", .kind = TEXT},
};

static double number_of(const cJSON *entry, const char *key)
{
	const cJSON *value = cJSON_GetObjectItemCaseSensitive(entry, key);
	if (cJSON_IsArray(value))
		value = cJSON_GetArrayItem(value, 1);
	return cJSON_IsNumber(value) ? value->valuedouble : NAN;
}

/* The amps of a row must follow from its watts, volts and power factor. */
static void check_appliance(const pack *p, const cJSON *entry, const cJSON *before)
{
	(void)before;
	const double factor = number_of(entry, "power_factor");
	const double amps = number_of(entry, "running_w") / number_of(entry, "volts_v") /
			    (isnan(factor) ? 1 : factor);
	const double said = number_of(entry, "running_a");
	if (!(fabs(amps - said) <= 0.02 * said + 0.006))
		PACK_FAULT(p, entry, "running_a is %g, but watts, volts and power factor give %.3g",
			said, amps);
}

static int gauge_number(const char *text)
{
	char *end = NULL;
	const long number = strtol(text, &end, 10);
	if (end == text || number < 0 || number > 40)
		return 99;
	if (*end == '\0')
		return (int)number;
	return strcmp(end, "/0") == 0 && number >= 1 && number <= 4 ? 1 - (int)number : 99;
}

/* Area by the defining series [ASTM-B258], resistance no less than 97 % of that of pure copper. */
static void check_conductor(const pack *p, const cJSON *entry, const cJSON *before)
{
	const char *awg = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(entry, "awg"));
	const double area = number_of(entry, "area_mm2");
	const double ohm = number_of(entry, "ohm_per_1000_ft_75c");
	if (awg == NULL)
		return;
	const double diameter_mm = 0.127 * pow(92.0, (36 - gauge_number(awg)) / 39.0);
	const double right_mm2 = 3.14159265358979323846 / 4 * diameter_mm * diameter_mm;
	if (!(fabs(area - right_mm2) <= 0.005 * right_mm2))
		PACK_FAULT(p, entry, "area_mm2 of %s AWG is %g, not %g", awg, right_mm2, area);
	const double copper_ohm = M_PER_1000_FT / 58.0 * (1 + 0.00393 * 55) / right_mm2;
	if (!(ohm >= 0.97 * copper_ohm && ohm <= 1.06 * copper_ohm))
		PACK_FAULT(p, entry, "resistance of %s AWG: copper has %.4g", awg, copper_ohm);
	if (before != NULL && !(area > number_of(before, "area_mm2")))
		PACK_FAULT(p, entry, "conductors do not stand thinnest first");
}

static void check_supply(const pack *p, const cJSON *entry, const cJSON *before)
{
	if (before != NULL && !(number_of(entry, "breaker_a") < number_of(before, "breaker_a")))
		PACK_FAULT(p, entry, "supplies do not stand largest first");
}

static void check_rating(const pack *p, const cJSON *entry, const cJSON *before)
{
	if (before != NULL && !(number_of(entry, "rating_a") > number_of(before, "rating_a")))
		PACK_FAULT(p, entry, "ratings do not stand smallest first");
}

#define FIELDS(table) table, sizeof(table) / sizeof((table)[0])
static const layout LAYOUTS[] = {
	{"appliances", "rig_appliance", FIELDS(APPLIANCE), check_appliance},
	{"chemistries", "rig_chemistry", FIELDS(CHEMISTRY), NULL},
	{"panels", "rig_panel_kind", FIELDS(PANEL), NULL},
	{"supplies", "rig_supply", FIELDS(SUPPLIES), check_supply},
	{"conductors", "rig_conductor_size", FIELDS(CONDUCTOR), check_conductor},
	{"ratings", "rig_standard_rating", FIELDS(RATING), check_rating},
};
enum { N_LAYOUTS = sizeof LAYOUTS / sizeof LAYOUTS[0], MAX_FIELDS = 24 };

const cJSON *pack_member(const pack *p, const cJSON *object, const char *key)
{
	const cJSON *member = cJSON_GetObjectItemCaseSensitive(object, key);
	if (member == NULL)
		PACK_FAULT(p, object, "\"%s\" is missing", key);
	return member;
}

const char *pack_text(const pack *p, const cJSON *object, const char *key)
{
	const cJSON *member = pack_member(p, object, key);
	const char *text = cJSON_GetStringValue(member);
	if (member != NULL && (text == NULL || text[0] == '\0')) {
		PACK_FAULT(p, member, "\"%s\" is not a text", key);
		return "";
	}
	return text == NULL ? "" : text;
}

bool pack_figure(const pack *p, const cJSON *value, const double limits[2], double figure[3])
{
	const bool list = cJSON_IsArray(value);
	if (list && cJSON_GetArraySize(value) != 3) {
		PACK_FAULT(p, value, "a list here holds low, likely and high");
		return false;
	}
	for (int i = 0; i < 3; i++) {
		const cJSON *one = list ? cJSON_GetArrayItem(value, i) : value;
		if (!cJSON_IsNumber(one)) {
			PACK_FAULT(p, value, "neither a number nor a list of three");
			return false;
		}
		figure[i] = one->valuedouble;
		if (figure[i] < limits[0] || figure[i] > limits[1]) {
			PACK_FAULT(p, value, "%g is not between %g and %g", figure[i], limits[0],
				limits[1]);
			return false;
		}
	}
	if (figure[0] > figure[1] || figure[1] > figure[2]) {
		PACK_FAULT(p, value, "low, likely and high are out of order");
		return false;
	}
	return true;
}

void pack_quote(rig_buffer *out, const char *text)
{
	rig_buffer_add(out, "\"");
	for (const char *c = text; *c != '\0'; c++) {
		if (*c == '"' || *c == '\\')
			rig_buffer_format(out, "\\%c", *c);
		else if ((unsigned char)*c < 0x20 || (unsigned char)*c > 0x7e || *c == '?')
			rig_buffer_format(out, "\\%03o", (unsigned)(unsigned char)*c);
		else
			rig_buffer_add_bytes(out, c, 1);
	}
	rig_buffer_add(out, "\"");
}

void pack_add_figure(rig_buffer *out, const double figure[3], const char *source)
{
	rig_buffer_format(out, "{%.17g, %.17g, %.17g, RIG_FROM_PROFILE, 0, ", figure[0], figure[1],
		figure[2]);
	if (source == NULL)
		rig_buffer_add(out, "0");
	else
		pack_quote(out, source);
	rig_buffer_add(out, "}");
}

void pack_refuse_others(const pack *p, const cJSON *object, const char *const keys[], size_t n_keys)
{
	for (const cJSON *member = object->child; member != NULL; member = member->next) {
		size_t i = 0;
		while (i < n_keys && strcmp(member->string, keys[i]) != 0)
			i++;
		if (i == n_keys)
			PACK_FAULT(p, member, "\"%s\" is no key of this list", member->string);
	}
}

static void add_word(const pack *p, const field *f, const cJSON *value)
{
	const char *text = cJSON_GetStringValue(value);
	for (const word *w = f->words; w->word != NULL; w++) {
		if (text != NULL && strcmp(w->word, text) == 0) {
			rig_buffer_add(p->out, w->constant);
			return;
		}
	}
	PACK_FAULT(p, value, "not a word that \"%s\" knows", f->key);
}

static void add_number(const pack *p, const field *f, const cJSON *value)
{
	double figure[3];
	if (cJSON_IsArray(value) || !pack_figure(p, value, f->limits, figure)) {
		PACK_FAULT(p, value, "\"%s\" is one number", f->key);
		return;
	}
	if (f->kind == COUNT && figure[1] != floor(figure[1]))
		PACK_FAULT(p, value, "\"%s\" is a whole number", f->key);
	rig_buffer_format(p->out, "%.17g", figure[1] * (f->scale > 0 ? f->scale : 1));
}

static void add_gauge(const pack *p, const cJSON *value)
{
	const char *text = cJSON_GetStringValue(value);
	const int awg = text == NULL ? 99 : gauge_number(text);
	if (awg == 99)
		PACK_FAULT(p, value, "not a gauge such as \"12\" or \"4/0\"");
	rig_buffer_format(p->out, "%d", awg);
}

static void add_value(const pack *p, const field *f, const cJSON *value, const char *source)
{
	double figure[3] = {0};
	switch (f->kind) {
	case ID:
	case TEXT:
		if (!cJSON_IsString(value) || value->valuestring[0] == '\0')
			PACK_FAULT(p, value, "\"%s\" is not a text", f->key);
		else
			pack_quote(p->out, value->valuestring);
		break;
	case NUMBER:
	case COUNT:
	case CHECK:
		add_number(p, f, value);
		break;
	case FIGURE:
		if (pack_figure(p, value, f->limits, figure))
			pack_add_figure(p->out, figure, source);
		break;
	case FLAG:
		if (!cJSON_IsBool(value))
			PACK_FAULT(p, value, "\"%s\" is neither true nor false", f->key);
		rig_buffer_add(p->out, cJSON_IsTrue(value) ? "true" : "false");
		break;
	case WORD:
		add_word(p, f, value);
		break;
	case GAUGE:
		add_gauge(p, value);
		break;
	}
}

/* A field that is checked only goes into a buffer that nobody keeps. */
static bool is_carried(const field *f)
{
	return f->kind != CHECK && f->words != BASIS;
}

static void add_field(const pack *p, const field *f, const cJSON *entry)
{
	const cJSON *value = cJSON_GetObjectItemCaseSensitive(entry, f->key);
	const char *name = f->field == NULL ? f->key : f->field;
	if (value == NULL || cJSON_IsNull(value)) {
		if (f->absent == NULL)
			PACK_FAULT(p, entry, "\"%s\" is missing", f->key);
		else if (f->absent[0] != '\0')
			rig_buffer_format(p->out, "\t\t.%s = %s,\n", name, f->absent);
		return;
	}
	rig_buffer dropped = {0};
	pack to = *p;
	if (!is_carried(f))
		to.out = &dropped;
	rig_buffer_format(to.out, "\t\t.%s = ", name);
	add_value(&to, f, value,
		cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(entry, "source")));
	rig_buffer_add(to.out, ",\n");
	rig_buffer_free(&dropped);
}

static void check_unique(const pack *p, const cJSON *entry, const cJSON *first)
{
	const char *id = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(entry, "id"));
	for (const cJSON *other = first; id != NULL && other != entry; other = other->next) {
		const char *its =
			cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(other, "id"));
		if (its != NULL && strcmp(its, id) == 0)
			PACK_FAULT(p, entry, "\"%s\" stands twice", id);
	}
}

static void pack_entry(const pack *p, const layout *l, const cJSON *entry, const cJSON *first)
{
	if (!cJSON_IsObject(entry)) {
		PACK_FAULT(p, entry, "an entry is an object");
		return;
	}
	const char *keys[MAX_FIELDS] = {0};
	for (size_t i = 0; i < l->n_fields; i++)
		keys[i] = l->fields[i].key;
	pack_refuse_others(p, entry, keys, l->n_fields);
	check_unique(p, entry, first);
	if (l->check != NULL)
		l->check(p, entry, entry == first ? NULL : entry->prev);
	rig_buffer_add(p->out, "\t{\n");
	for (size_t i = 0; i < l->n_fields; i++)
		add_field(p, &l->fields[i], entry);
	rig_buffer_add(p->out, "\t},\n");
}

/* Every file says what it is and whom it rests on. */
static void check_about(const pack *p, const cJSON *root)
{
	const cJSON *about = pack_member(p, root, "about");
	if (!cJSON_IsObject(about))
		return;
	(void)pack_text(p, about, "what");
	const cJSON *sources = pack_member(p, about, "sources");
	if (sources != NULL && (!cJSON_IsArray(sources) || cJSON_GetArraySize(sources) == 0))
		PACK_FAULT(p, sources, "\"sources\" is not a list of sources");
}

static void pack_list(const pack *p, const layout *l, const cJSON *root)
{
	check_about(p, root);
	const cJSON *list = pack_member(p, root, l->file);
	if (!cJSON_IsArray(list) || list->child == NULL) {
		PACK_FAULT(p, root, "\"%s\" is not a list with entries", l->file);
		return;
	}
	rig_buffer_format(p->out, "\nconst %s rig_table_%s[] = {\n", l->type, l->file);
	for (const cJSON *entry = list->child; entry != NULL; entry = entry->next)
		pack_entry(p, l, entry, list->child);
	rig_buffer_format(p->out,
		"};\nconst size_t rig_table_n_%s =\n"
		"\tsizeof rig_table_%s / sizeof rig_table_%s[0];\n",
		l->file, l->file, l->file);
}

static void say_faults(const char *path, rig_diags *diags)
{
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *d = rig_diags_at(diags, i);
		(void)fprintf(stderr, "%s:%zu:%zu: %s %s\n", path, d->where.line, d->where.column,
			d->what, d->found);
	}
}

/* Reads one profile file and adds its tables. False: its faults have been said. */
static bool pack_file(const char *folder, const char *name, const layout *l, rig_buffer *out)
{
	char path[4096];
	rig_buffer text = {0};
	pack p = {NULL, rig_diags_new(), out};
	(void)snprintf(path, sizeof path, "%s/%s.json", folder, name);
	bool fine = p.diags != NULL &&
		    rig_file_read(path, RIG_JSON_MAX_BYTES, &text, p.diags) == RIG_OK &&
		    rig_json_read(text.text, text.length, p.diags, &p.json) == RIG_OK;
	if (fine) {
		if (l != NULL)
			pack_list(&p, l, rig_json_root(p.json));
		else
			pack_places(&p, rig_json_root(p.json));
		fine = rig_diags_faults(p.diags) == 0 && !out->failed;
	}
	if (!fine && p.diags != NULL)
		say_faults(path, p.diags);
	rig_json_free(p.json);
	rig_buffer_free(&text);
	rig_diags_free(p.diags);
	return fine;
}

static bool write_tables(const char *folder, const char *name, const rig_buffer *out)
{
	char path[4096];
	rig_diags *diags = rig_diags_new();
	(void)snprintf(path, sizeof path, "%s/%s", folder, name);
	const bool fine =
		diags != NULL && rig_file_write(path, out->text, out->length, diags) == RIG_OK;
	if (!fine && diags != NULL)
		say_faults(path, diags);
	rig_diags_free(diags);
	return fine;
}

static void begin(rig_buffer *out)
{
	rig_buffer_add(out, "/* SPDX-License-Identifier: GPL-3.0-or-later */\n"
			    "/* Made from profiles/ by src/rig/pack.c. */\n"
			    "#include \"rig/tables.h\"\n");
}

bool pack_all(const char *profiles_folder, const char *out_folder)
{
	rig_buffer profiles = {0};
	rig_buffer places = {0};
	begin(&profiles);
	begin(&places);
	bool fine = pack_file(profiles_folder, "places", NULL, &places);
	for (size_t i = 0; i < N_LAYOUTS; i++)
		fine &= pack_file(profiles_folder, LAYOUTS[i].file, &LAYOUTS[i], &profiles);
	fine = fine && write_tables(out_folder, "profile_tables.c", &profiles) &&
	       write_tables(out_folder, "place_tables.c", &places);
	rig_buffer_free(&profiles);
	rig_buffer_free(&places);
	return fine;
}
