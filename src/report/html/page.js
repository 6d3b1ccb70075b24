"use strict";
// Steps through the lines of a section on the section's own board: click, or arrow keys on a move.
(() => {
  const ns = "http://www.w3.org/2000/svg";
  const draw = (board, men) => {
    const flip = board.dataset.flip === "true";
    const group = board.querySelector(".men");
    group.replaceChildren();
    men.split("/").forEach((rank, y) => {
      let x = 0;
      for (const c of rank) {
        if (c >= "1" && c <= "8") { x += Number(c); continue; }
        const use = document.createElementNS(ns, "use");
        use.setAttribute("href", "#" + (c === c.toUpperCase() ? "w" : "b") + c.toUpperCase());
        use.setAttribute("x", (flip ? 7 - x : x) * 45);
        use.setAttribute("y", (flip ? 7 - y : y) * 45);
        group.append(use);
        x += 1;
      }
    });
  };
  for (const stepper of document.querySelectorAll(".stepper")) {
    const board = stepper.querySelector(".board");
    const start = [...board.querySelector(".men").children];
    const caption = stepper.querySelector("figcaption");
    const first = [caption.textContent, board.getAttribute("aria-label")];
    const moves = [...stepper.querySelectorAll(".move[data-men]")];
    // A finding's board stands at its place, behind the way there.
    const origin = stepper.querySelectorAll(".way .move[data-men]").length - 1;
    let at = origin;
    const show = (index, focus) => {
      at = Math.max(Math.min(origin, 0), Math.min(index, moves.length - 1));
      moves.forEach((m, i) => { m.setAttribute("aria-pressed", i === at); m.tabIndex = i === Math.max(at, 0) ? 0 : -1; });
      if (at === origin) {
        board.querySelector(".men").replaceChildren(...start);
        caption.textContent = first[0];
        board.setAttribute("aria-label", first[1]);
        if (focus && at >= 0) moves[at].focus();
        return;
      }
      draw(board, moves[at].dataset.men);
      caption.textContent = "After " + moves[at].textContent;
      board.setAttribute("aria-label", "The board after " + moves[at].textContent);
      if (focus) moves[at].focus();
    };
    caption.setAttribute("aria-live", "polite");
    moves.forEach((move, i) => {
      move.setAttribute("role", "button");
      move.addEventListener("click", () => show(i, true));
    });
    if (!moves.length) continue;
    stepper.addEventListener("keydown", (event) => {
      const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      const press = event.key === "Enter" || event.key === " ";
      if (by) show(at + by, true);
      else if (event.key === "Home") show(origin, true);
      else if (press && event.target.classList.contains("move")) show(moves.indexOf(event.target), true);
      else return;
      event.preventDefault();
    });
    const walk = document.createElement("div");
    walk.className = "walk";
    for (const [label, text, by] of [["One move back", "\u2039", -1], ["One move on", "\u203a", 1]]) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = text;
      button.setAttribute("aria-label", label);
      button.addEventListener("click", () => show(at + by, false));
      walk.append(button);
    }
    board.parentElement.append(walk);
    show(origin, false);
  }
  addEventListener("beforeprint", () => { for (const d of document.querySelectorAll("details")) d.open = true; });
})();
