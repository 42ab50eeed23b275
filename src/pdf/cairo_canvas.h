/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cairo_canvas.h: the canvas that draws on a page, with the shapes and inks of the one that writes
 * SVG. */
#ifndef PDF_CAIRO_CANVAS_H
#define PDF_CAIRO_CANVAS_H

#include "report/canvas.h"
#include "type.h"

typedef struct {
	cairo_t *cairo; /* NULL only measures */
	PangoContext *context;
	rig_point size; /* of the picture, from its beginning on */
	bool shortened; /* some text ends in an ellipsis */
} rig_cairo;

rig_canvas rig_cairo_canvas(rig_cairo *drawn);

#endif
