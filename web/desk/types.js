/**
 * The values that travel between the page and the package, as the desk writes them: lengths in mm, areas in
 * mm², paths as SVG path data in design mm, filled by even-odd.
 *
 * @typedef {[number, number]} Point
 * @typedef {[number, number, number, number]} Box  x0, y0, x1, y1
 * @typedef {[number, number, number, number, number, number]} Affine  a, b, c, d, e, f as canvas takes them
 *
 * The project document: what the person decided. The page holds it as the truth and never changes one in
 * place: every edit makes a new document that shares what it left alone.
 *
 * @typedef {{name: string, svg: string}} Source
 * @typedef {{habit: string | null, card_colour: string | null, opening_colour: string | null,
 *   to_page: boolean | null, card_number: number | null, px_per_inch: number | null,
 *   width_mm: number | null, height_mm: number | null}} Reading
 * @typedef {{bar_mm: number, opening_mm2: number}} Limits
 * @typedef {{paper: string, edge_margin_mm: number, fills_outside_holes: boolean}} WholeBack
 * @typedef {{mode: string, lip_mm: number, least_lip_mm: number, gap_mm: number, clearance_mm: number,
 *   edge_margin_mm: number, shared_bar_mm: number | null, joined: Point[], split: Point[], punches: string[],
 *   simple_shapes: [number, string][], whole_back: WholeBack | null}} BackingChoices
 * @typedef {{id: string, name: string, colour: string, pattern: string | null, picture: string | null,
 *   picture_width_mm: number | null, sheet_width_mm: number, sheet_height_mm: number, sheets: number | null,
 *   direction: string, both_sides: boolean, price: number | null, original: string | null,
 *   print_margin_mm: number | null, collection: string, stash: string | null}} Paper
 * @typedef {{id: string, paper: string, width_mm: number, height_mm: number, outline: Point[]}} Scrap  a rectangle without an outline
 * @typedef {{papers: Paper[], scraps: Scrap[]}} Shelf
 * @typedef {{id: string, name: string, papers: Record<string, string>, locked: number[]}} Colourway
 * @typedef {{piece: number, trim: string, turn_deg: number, x_mm: number, y_mm: number}} PiecePin
 * @typedef {{trim: string, paper: string, width_mm: number, height_mm: number, mat: number, x_mm: number,
 *   y_mm: number, turned: boolean}} TrimPin
 * @typedef {{paper: string, rounds: number}} PaperRounds
 * @typedef {{trim_step_mm: number | null, spacing_mm: number, margin_mm: number, trim_shape: string,
 *   mat_width_mm: number, mat_height_mm: number, mat_rim_mm: number, mat_grid_mm: number, mat_use: string,
 *   least_scrap_mm: number, seed: number, rounds: PaperRounds[] | null, piece_pins: PiecePin[], trim_pins: TrimPin[]}} PlanChoices
 * @typedef {{colourway: string, booking: string, scraps: Scrap[], rounds: PaperRounds[]}} Cut
 * @typedef {{paper: string, name: string, sheets: number, counted: number, used: Scrap[], left: Scrap[],
 *   trims_mm2: number, waste_mm2: number}} Taken  of one paper of the stash; see `py/peekpaper/plan/booking/booking.py`
 * @typedef {{id: string, when: number, project: string, name: string, colourway: string, taken: Taken[],
 *   undone: boolean}} Booking  what was cut from the stash at once for one project; `undone` where it was taken back
 * @typedef {{mm_per_second: number, seconds_per_piece: number}} CutSpeed
 * @typedef {{card_colour: string, behind_colour: string}} Look
 * @typedef {{kind: string, x_mm: number, y_mm: number, width_mm: number, height_mm: number, turn_deg: number,
 *   mat_mm: number, text: string, picture: string | null, picture_x: number, picture_y: number,
 *   picture_zoom: number, ink: string | null, face: string | null}} Block
 * @typedef {{width_mm: number, height_mm: number, background: string | null, blocks: Block[]}} PageLayout
 * @typedef {{kind: string} & Record<string, unknown>} Change  of the card, in px of the drawing; see `py/peekpaper/design/mending/mends.py`
 * @typedef {{id: string, change: Change, finding: string}} Mend
 * @typedef {{name: string, openings: number[]}} Motif  openings that belong together in the picture; see
 *   `py/peekpaper/design/motifs/motifs.py`
 * @typedef {{id: string, name: string, source: Source, reading: Reading, mends: Mend[], limits: Limits,
 *   backing: BackingChoices, shelf: Shelf, colourways: Colourway[], colourway: string, plan: PlanChoices,
 *   speed: CutSpeed, ticked: number[], ticked_bits: number[], look: Look, page: PageLayout, units: string,
 *   cuts: Cut[], likeness: number | null, motifs: Motif[], glue_by_motif: boolean}} Project
 *
 * What the package tells a person: the key of its words, and what they fill in.
 *
 * @typedef {number | string | Message | readonly FigurePart[]} Figure
 * @typedef {number | string | Message | readonly number[]} FigurePart
 * @typedef {{key: string, figures: Readonly<Record<string, Figure>>}} Message
 *
 * What the desk computes from a project.
 *
 * @typedef {{number: number, path: string, box: Box, label: [number, number, number], area_mm2: number,
 *   alike: number, same_shape: number, given_colour: string | null}} Opening
 * @typedef {{number: number, name: string, path: string, box: Box, label: [number, number, number],
 *   opening: number}} LooseBit
 * @typedef {{first: number, second: number | null, width_mm: number, strip: string, across: Box}} Bar
 * @typedef {{code: string, message: Message, at: Point, where: string | null, box: Box | null,
 *   severity: number, action: string | null}} Warning
 * @typedef {{width_mm: number, height_mm: number, card: string, loose_bits: LooseBit[], openings: Opening[],
 *   bars: Bar[], warnings: Warning[], habits: string[], habit: string | null, colours: string[],
 *   mm_per_px: number, size_is_a_guess: boolean, usual_px_per_inch: number[], is_whole: boolean,
 *   division: Division | null}} Design
 * @typedef {{joint: "tab" | "edge", parts: {number: number, path: string, box: Box}[], seams: string | null}} Division
 * @typedef {{choice: {habit: string, card_colour: string | null, opening_colour: string | null,
 *   to_page: boolean, card_number: number | null}, openings: number, parts: number,
 *   loose_bits: number, card: string, width: number, height: number}} PossibleReading
 * @typedef {{id: string, kind: string, finding: string, at: Point, box: Box, is_lost: boolean, line: Point[] | null, width_mm: number | null}} PlacedMend
 * @typedef {{added: string | null, removed: string | null, changed_mm2: number, changed_percent: number}} Changed
 * @typedef {Changed & {finding: string, choice: string, at: Point, box: Box, mends: Change[], seams: string | null}} MendProposal
 * @typedef {{mends: PlacedMend[], proposals: MendProposal[]}} ProposedMends
 * @typedef {Changed & {mends: {finding: string, change: Change}[], openings: number, parts: number, loose_bits: number}} AllMends
 * @typedef {Changed & {mends: Change[], placed: PlacedMend[], repeats: Change[], openings: number, parts: number, loose_bits: number, points: number, points_before: number}} TriedMend
 * @typedef {{width_mm: number | null, bar_mm: number | null, changed_percent: number}} LighterMend
 * @typedef {{number: number, openings: number[], paper: string, path: string, lip_min_mm: number,
 *   lip_median_mm: number, simple_shape: string | null}} Piece
 * @typedef {{form: "square" | "circle" | "rectangle", width_mm: number, height_mm: number}} SimpleShape
 * @typedef {{piece: number, name: string, path: string, shape: SimpleShape,
 *   cut_in: string | null}} Offer
 * @typedef {{limit_mm: number, pieces: number, shared: number[][]}} FewerPieces
 * @typedef {{pieces: Piece[], whole_back: string | null, offers: Offer[],
 *   shapes: Record<string, SimpleShape>, fewer: FewerPieces | null, pieces_saved_by_sharing: number, uniform_lip_mm: number, smallest_width_mm: number | null, smallest_set_by: Box[], nodes_before: number,
 *   nodes_after: number, under_least_lip: number[], warnings: Warning[]}} Backing
 * @typedef {{number: number, turn_deg: number, x_mm: number, y_mm: number, path: string}} PlacedPiece
 * @typedef {{id: string, paper: string, width_mm: number, height_mm: number, scrap: string | null, outline: string | null,
 *   sheet: number | null, printed: boolean, mat: number,
 *   x_mm: number, y_mm: number, turned: boolean, pieces: PlacedPiece[]}} Trim
 * @typedef {{number: number, width_mm: number, height_mm: number}} Mat
 * @typedef {{turn_deg: number, x_mm: number, y_mm: number}} PiecePlace
 * @typedef {{mat: number, x_mm: number, y_mm: number, turned: boolean}} TrimPlace
 * @typedef {{trims: Trim[], mats: Mat[], paper_area_mm2: Record<string, number>,
 *   sheets: Record<string, number>, cut_length_mm: number, seconds: number, rounds: PaperRounds[], complete: boolean,
 *   warnings: Message[]}} Plan
 * @typedef {{order: number, piece: number, openings: number[], interchangeable_with: number[],
 *   lets_set: boolean}} GlueStep
 * @typedef {{paper: string, band: number, bands: number, steps: GlueStep[],
 *   motif: number | null, motif_name: string}} GlueGroup
 * @typedef {{groups: GlueGroup[]}} Checklist
 * @typedef {{name: string, type: string, purpose: string, bytes: {buffer: number}}} SheetFile
 * @typedef {{papers: Record<string, string>, reasons: Message[], unmet: Message[]}} Suggestion
 * @typedef {{project: string, papers: Paper[], sheets: Record<string, number>}} Need  of one project's plan
 * @typedef {{paper: Paper, stash: string | null, needed: number, projects: string[], at_hand: number | null,
 *   to_buy: number, is_low: boolean, cost: number | null}} ReorderRow
 * @typedef {{count: number, seed: number, among: readonly string[], ramp: boolean, by_motif: boolean}} Wish  for a suggestion
 * @typedef {{kind: string, papers: {shelf: string | null, stash: string | null}[]}} Story  papers by their ids there
 * @typedef {{groups: number[][], usual: number}} Likeness  `groups`: by how alike openings must be, the number of each
 *   opening's group; see `py/peekpaper/design/openings/likeness.py`
 * @typedef {{openings: Record<string, Affine>}} Preview
 * @typedef {{text: string, x: number, y: number, line: Box | null}} Measure
 */

/**
 * How a picture becomes a design; see `py/peekpaper/tracing/choices.py`. Corners are px of a copy.
 *
 * @typedef {{card: string | null, colour: string, threshold: number | null, corners: Point[] | null,
 *   width_mm: number | null, height_mm: number | null, speck_mm: number}} Tracing
 * @typedef {{card: string, threshold: number, openings: number, parts: number, dropped: number,
 *   isCard: Uint8Array}} SeenPicture  `isCard` by px
 */

/**
 * Words in a design that are not drawn in the file's own typeface, and what they may be drawn in; see
 * `py/peekpaper/sources/lettering`.
 *
 * @typedef {{sample: string, family: string, drawn_in: string}} Words
 * @typedef {{typefaces: readonly ArrayBuffer[], standIn: boolean}} Lettering
 */

/**
 * Where something that was laid by hand may lie, and why that is not where it was wanted.
 *
 * @template Where
 * @typedef {{place: Where | null, why: Message | null}} Landing
 */

export {};
