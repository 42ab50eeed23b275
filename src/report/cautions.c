/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands beside every answer that somebody could take a tool to. */
#include "writer.h"

static void caution_people(rig_document *document)
{
	rig_add_item(document,
		"These are sizes on paper. Choosing, laying and connecting wire is work for a "
		"licensed electrician or a certified technician, by the code that holds there; "
		"the instructions of the makers come first.");
	rig_add_item(document,
		"A code official, an inspector or an insurer may require a permit, an inspection, "
		"listed equipment, labels, and a drawing by a qualified person. Ask before the "
		"work begins.");
	rig_add_item(document, "Before touching any wire: shore cord, generator, inverter, "
			       "batteries and panels off and "
			       "apart, then proved dead with a meter.");
	rig_add_item(document, "A fuse that blows has a reason. Never put in a larger one; it "
			       "protects the wire, and a "
			       "wire without protection can set the coach on fire.");
}

static void caution_batteries(rig_document *document)
{
	rig_add_item(document,
		"A battery needs a disconnect that can be reached and a fuse close to its terminal "
		"that can break the whole short-circuit current. A fuse that cannot may burst. "
		"Panels, chargers and inverters need a disconnect each as well.");
	rig_add_item(document,
		"Batteries stand fastened down, their terminals covered, where their maker allows. "
		"Lead batteries give off explosive gas: they belong in a space that is closed off "
		"from the living space and vented to the outside, with switches, fuses and "
		"anything that sparks outside it.");
}

/* Grounded conductors kept apart from ground inside the vehicle, 551.54(C); two supplies never on
 * one wire, 551.30(B) and 551.31 [NFPA-70]. */
static void caution_sources(rig_document *document)
{
	rig_add_item(document,
		"Neutral and ground are joined only at the source in use: at the campground's "
		"service, in a generator or an inverter that is built for it. A second joint in "
		"the coach puts current on its frame, and one missing keeps breakers from "
		"clearing a fault.");
	rig_add_item(document,
		"Shore power, generator and inverter must never feed the same wires at once: a "
		"transfer switch listed for it lets go of one before it takes the other. Without "
		"it the bare pins of the cord can be live.");
}

void rig_work_cautions(rig_writer *writer, bool mains)
{
	caution_people(writer->document);
	caution_batteries(writer->document);
	if (mains)
		caution_sources(writer->document);
}
