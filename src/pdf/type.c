/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "type.h"

#include <math.h>
#include <string.h>

#include "report/glyph.h"

/* Families of the package fonts-dejavu-core: Latin, Greek, Cyrillic, Hebrew and Arabic in one face;
 * fontconfig finds others for what they lack, or for all of it where they are not installed. */
static const char SANS[] = "DejaVu Sans";
static const char SERIF[] = "DejaVu Serif";

static const struct {
	const char *family;
	double size;
	bool bold;
	rig_tone tone;
	float spacing; /* of lines, in line heights */
} STYLE[RIG_N_STYLES] = {
	[RIG_STYLE_TITLE] = {SERIF, 17.0, true, RIG_TONE_INK, 1.05f},
	[RIG_STYLE_SUBTITLE] = {SANS, 8.4, false, RIG_TONE_QUIET, 1.1f},
	[RIG_STYLE_PART] = {SERIF, 12.5, true, RIG_TONE_INK, 1.0f},
	[RIG_STYLE_SECTION] = {SANS, 8.4, true, RIG_TONE_INK, 1.0f},
	[RIG_STYLE_QUESTION] = {SANS, 8.0, true, RIG_TONE_QUIET, 1.05f},
	[RIG_STYLE_VERDICT] = {SERIF, 10.2, false, RIG_TONE_INK, 1.05f},
	[RIG_STYLE_BODY] = {SANS, 8.4, false, RIG_TONE_INK, 1.1f},
	[RIG_STYLE_BRIEF] = {SANS, 7.6, false, RIG_TONE_INK, 1.0f},
	[RIG_STYLE_BRIEF_QUESTION] = {SANS, 7.2, true, RIG_TONE_QUIET, 1.0f},
	[RIG_STYLE_BRIEF_VERDICT] = {SERIF, 9.0, false, RIG_TONE_INK, 1.0f},
	[RIG_STYLE_QUIET] = {SANS, 8.0, false, RIG_TONE_QUIET, 1.05f},
	[RIG_STYLE_CELL] = {SANS, 7.8, false, RIG_TONE_INK, 1.0f},
	[RIG_STYLE_HEAD] = {SANS, 7.4, false, RIG_TONE_QUIET, 1.0f},
	[RIG_STYLE_FOOT] = {SANS, 7.0, false, RIG_TONE_QUIET, 1.0f},
	[RIG_STYLE_CAUTION] = {SANS, 9.2, true, RIG_TONE_WARN, 1.0f},
	[RIG_STYLE_LABEL] = {SANS, 12.0, false, RIG_TONE_INK, 1.0f},
	[RIG_STYLE_GAP] = {SANS, 1.6, false, RIG_TONE_INK, 1.0f},
};

/* The colours of the web page on paper. */
static const unsigned TONE[RIG_N_TONES] = {
	0x1a1a1a, 0x555555, 0xc9c5bb, 0xe4e1d9, 0x7a3300, 0xfdf3ec};

void rig_tone_use(cairo_t *cairo, rig_tone tone)
{
	const unsigned rgb = TONE[tone];
	cairo_set_source_rgb(
		cairo, (rgb >> 16) / 255.0, (rgb >> 8 & 0xff) / 255.0, (rgb & 0xff) / 255.0);
}

/* Pango names these even where there is no font. */
static bool is_alias(const char *family)
{
	static const char *const ALIASES[] = {"Sans", "Serif", "Monospace", "System-ui"};
	for (size_t i = 0; i < sizeof ALIASES / sizeof ALIASES[0]; i++) {
		if (g_ascii_strcasecmp(family, ALIASES[i]) == 0)
			return true;
	}
	return false;
}

static bool any_font(PangoFontMap *map)
{
	PangoFontFamily **families = NULL;
	int n = 0;
	bool any = false;
	pango_font_map_list_families(map, &families, &n);
	for (int i = 0; i < n && !any; i++)
		any = !is_alias(pango_font_family_get_name(families[i]));
	g_free(families);
	return any;
}

PangoContext *rig_type_context(void)
{
	PangoFontMap *map = pango_cairo_font_map_new();
	pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72.0);
	PangoContext *context = any_font(map) ? pango_font_map_create_context(map) : NULL;
	g_object_unref(map);
	if (context == NULL)
		return NULL;
	/* not those of the screen or of the environment */
	cairo_font_options_t *options = cairo_font_options_create();
	cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
	cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
	cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
	pango_cairo_context_set_font_options(context, options);
	cairo_font_options_destroy(options);
	pango_context_set_round_glyph_positions(context, FALSE);
	pango_context_set_language(context, pango_language_from_string("en"));
	pango_context_set_base_dir(context, PANGO_DIRECTION_LTR);
	return context;
}

PangoFontDescription *rig_type_font(rig_style style)
{
	PangoFontDescription *font = pango_font_description_new();
	pango_font_description_set_family_static(font, STYLE[style].family);
	pango_font_description_set_absolute_size(font, STYLE[style].size * PANGO_SCALE);
	if (STYLE[style].bold)
		pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
	return font;
}

double rig_type_size(rig_style style)
{
	return STYLE[style].size;
}

static void add_attribute(PangoAttrList *list, PangoAttribute *attribute, size_t from, size_t to)
{
	attribute->start_index = (guint)from;
	attribute->end_index = (guint)to;
	pango_attr_list_insert(list, attribute);
}

/* The font and the ink of the bytes from one place to another. */
static void add_style(PangoAttrList *list, rig_style style, size_t from, size_t to)
{
	const unsigned rgb = TONE[STYLE[style].tone];
	PangoFontDescription *font = rig_type_font(style);
	add_attribute(list, pango_attr_font_desc_new(font), from, to);
	pango_font_description_free(font);
	add_attribute(list,
		pango_attr_foreground_new((guint16)((rgb >> 16) * 257),
			(guint16)((rgb >> 8 & 0xff) * 257), (guint16)((rgb & 0xff) * 257)),
		from, to);
}

PangoLayout *rig_type_set_runs(
	PangoContext *context, size_t n, const rig_type_run *runs, double width)
{
	rig_buffer shown = {0};
	PangoAttrList *list = pango_attr_list_new();
	/* a name broken anywhere gets no letters that are not its own */
	add_attribute(list, pango_attr_insert_hyphens_new(FALSE), 0, G_MAXUINT);
	for (size_t i = 0; i < n; i++) {
		const size_t from = shown.length;
		if (runs[i].on_new_line) {
			rig_buffer_add(&shown, "\n\n");
			add_style(list, RIG_STYLE_GAP, from + 1, shown.length);
		}
		const size_t own = shown.length;
		rig_glyph_typeset(&shown, runs[i].text);
		add_style(list, runs[i].style, own, shown.length);
	}
	PangoLayout *layout = shown.failed ? NULL : pango_layout_new(context);
	if (layout != NULL) {
		PangoFontDescription *font = rig_type_font(runs[0].style);
		pango_layout_set_font_description(layout, font); /* of an empty text */
		pango_font_description_free(font);
		pango_layout_set_auto_dir(layout, FALSE);
		pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
		pango_layout_set_line_spacing(layout, STYLE[runs[n - 1].style].spacing);
		pango_layout_set_width(layout, width < 0 ? -1 : (int)floor(width * PANGO_SCALE));
		pango_layout_set_text(layout, shown.text == NULL ? "" : shown.text, -1);
		pango_layout_set_attributes(layout, list);
	}
	pango_attr_list_unref(list);
	rig_buffer_free(&shown);
	return layout;
}

PangoLayout *rig_type_set(PangoContext *context, rig_style style, const char *text, double width)
{
	const rig_type_run run = {style, text, false};
	return rig_type_set_runs(context, 1, &run, width);
}

static double layout_width(PangoLayout *layout)
{
	PangoRectangle logical;
	pango_layout_get_extents(layout, NULL, &logical);
	return (double)logical.width / PANGO_SCALE;
}

double rig_type_width(PangoContext *context, rig_style style, const char *text)
{
	PangoLayout *layout = rig_type_set(context, style, text, -1.0);
	if (layout == NULL)
		return 0.0;
	const double width = layout_width(layout);
	g_object_unref(layout);
	return width;
}

double rig_type_word_width(PangoContext *context, rig_style style, const char *text)
{
	PangoLayout *layout = rig_type_set(context, style, text, 0.0);
	if (layout == NULL)
		return 0.0;
	pango_layout_set_wrap(layout, PANGO_WRAP_WORD);
	const double width = layout_width(layout);
	g_object_unref(layout);
	return width;
}
