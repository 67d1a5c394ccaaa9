/**
 * The small picture beside each line of help: a symbol of pictures.svg that draws what happens. What has none
 * here shows the icon it carries itself.
 *
 * @type {Readonly<Record<string, readonly string[]>>}  symbol -> what it is shown for
 */
const SHOWN_FOR = {
  size: ["design.width", "photo.size", "design.height", "design.guess", "menu.units", "take.unit", "page.size", "paper.size", "mats.mat-width", "mats.mat-height", "design.shared-bar"],
  check: ["kind-warning", "kind-mend", "kind-advice", "kind-spot", "kind-pager", "kind-way", "kind-mend-all", "kind-mend-see", "mend.remove", "mend.as-it-came", "design.strength"],
  lip: ["design.lip", "design.least-lip", "design.mode-fitted", "design.mode-uniform", "design.lips", "lips.show"],
  gap: ["design.gap", "design.whole-margin", "design.clearance", "design.edge-margin", "mats.spacing", "mats.margin", "mats.rim", "mats.least-scrap"],
  share: ["design.share", "few.take", "motifs.one-piece", "design.joins", "design.whole-back", "design.whole-fills", "design.whole-paper"],
  punch: ["kind-offer", "kind-offers", "design.punches", "design.punch-form", "design.punch-size", "design.punch-other-size", "design.punch-add", "design.punch-off"],
  swap: ["paper.swap", "colourway.swap", "colourway.swap-old", "colourway.swap-new", "colourway.swap-do"],
  give: ["kind-paper", "papers.tab-give", "place.papers", "design.next", "paper.remove-instead"],
  alike: ["kind-alike", "likeness", "papers.gives", "papers.rows", "papers.row-give", "motifs", "motifs.row-give", "motifs.new", "motifs.change"],
  drag: ["papers.drag"],
  open: ["papers.leave", "look.behind"],
  shelf: ["reorder.open", "reorder.scope", "shelf.collection", "collection.size", "collection.keep-files", "collection.do", "stash.open", "cut.do", "cut.book", "cut.take-back", "cut.history", "stash.lay", "stash.search", "stash.collection", "stash.order", "stash.hide-used-up", "stash.low", "stash.collect", "stash.collection-name", "stash.collect-do", "stash.remove", "stash.more", "stash.take-in", "stash.load", "stash.save", "stash.forget", "stash.forget-do", "paper.collection", "shelf.more", "shelf.load", "shelf.save", "paper.new", "paper.add", "paper.earlier", "paper.later", "paper.name", "paper.colour", "kind-look", "paper.keep", "paper.remove-do", "paper.sheets", "paper.price", "paper.both-sides", "look.card"],
  turned: ["paper.direction", "page.turn-left", "page.turn-right", "mats.turn-left", "mats.turn-right"],
  scrap: ["paper.scraps", "paper.scrap-add", "paper.scrap-remove"],
  corners: ["kind-corner", "photo.whole", "photo.marked", "shelf.photo", "photo.use", "photo.turn", "suggest.photo-pick", "page.photo-pick"],
  spread: ["papers.tab-suggest", "suggest.do", "suggest.again", "suggest.fewer", "suggest.more", "suggest.why", "suggest.unmet", "suggest.lock-given", "suggest.unlock", "suggest.from", "suggest.from-some", "suggest.way", "suggest.turn-round", "story.paper", "story.use"],
  compare: ["papers.tab-colourways", "colourway.copy", "kind-colourway", "colourway.compare", "colourway.new", "colourway.new-name", "colourway.rename"],
  page: ["papers.tab-page", "kind-block", "page.background", "page.add-photo", "page.add-title", "page.add-writing", "page.x", "page.y", "page.mat", "page.text", "page.grid", "page.thirds", "page.picture"],
  trim: ["kind-trim", "mats.step", "mats.shape", "mats.whole-trim", "mats.to-paper"],
  piece: ["kind-piece", "kind-motif", "mats.more-motifs", "mats.let-go"],
  mat: ["place.mats", "papers.next", "mats.mat-size", "mats.grid", "mats.use", "mats.longer"],
  time: ["speed.set", "speed.minutes", "speed.seconds", "speed.use"],
  files: ["reorder.save", "reorder.print", "paper.printed", "paper.print-margin", "glue.tab-take", "take.do", "take.kinds", "kind-file", "take.more", "take.guides", "take.per_paper", "take.paper-size"],
  square: ["take.size_check"],
  over: ["act.back", "act.front", "glue.side", "take.mirrored"],
  glue: ["place.glue-up", "mats.next", "glue.tab-glue", "glue.done", "glue.by", "glue.back", "glue.again", "kind-tick"],
  look: ["kind-table", "act.fit", "act.closer", "act.farther"],
  design: ["place.design", "kind-openings", "kind-menu", "kind-kept", "kind-kept-more", "kind-version", "kept.name", "kept.open", "kept.duplicate", "menu.demo", "menu.save-all"],
  link: ["menu.link", "link.itself", "link.copy", "link.share", "kind-share"],
  steps: ["menu.guide", "guide.print"],
  light: ["menu.look"],
  speech: ["menu.language"],
  tall: ["act.taller", "kind-depth"],
};

const PICTURES = new Map(
  Object.entries(SHOWN_FOR).flatMap(([symbol, all]) => all.map((each) => /** @type {const} */ ([each, symbol]))),
);

/**
 * @param {string} what  a key of the words without its `help.`
 * @param {Element} control  whose own icon stands in
 * @returns {string} where the picture is
 */
export function pictureOf(what, control) {
  const symbol = PICTURES.get(what);
  if (symbol) return `pictures.svg#${symbol}`;
  return control.querySelector("use")?.getAttribute("href") ?? "pictures.svg#give";
}
