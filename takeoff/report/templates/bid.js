"use strict";
// Rows by arrow keys; 3-D views when they are asked for, a few at a time.
(function () {
  const MOST_VIEWS = 4; // browsers keep only so many drawing contexts
  const STEP = Math.PI / 12;
  const opened = [];

  document.addEventListener("keydown", function (event) {
    const row = event.target.closest ? event.target.closest("tr[tabindex]") : null;
    if (row === null || event.target !== row) {
      return;
    }
    const rows = Array.from(row.closest("table").querySelectorAll("tr[tabindex]"));
    const place = rows.indexOf(row);
    const places = {
      ArrowDown: place + 1, ArrowUp: place - 1, Home: 0, End: rows.length - 1,
    };
    const next = rows[places[event.key]];
    if (next !== undefined) {
      event.preventDefault();
      row.tabIndex = -1;
      next.tabIndex = 0;
      next.focus();
    }
  });

  function drawable() {
    if (typeof Plotly === "undefined") {
      return false;
    }
    const context = document.createElement("canvas").getContext("webgl");
    if (context === null) {
      return false;
    }
    const losing = context.getExtension("WEBGL_lose_context");
    if (losing !== null) {
      losing.loseContext();
    }
    return true;
  }

  function open(view) {
    const figure = JSON.parse(view.dataset.figure);
    const plot = view.querySelector(".plot");
    view.querySelector(".stage").hidden = false;
    view.querySelector(".open").parentElement.hidden = true;
    opened.push(view);
    if (opened.length > MOST_VIEWS) {
      close(opened[0]);
    }
    const config = {
      displayModeBar: false, responsive: true, scrollZoom: false,
    };
    return Plotly.newPlot(plot, figure.data, figure.layout, config).then(function () {
      view.eye = figure.layout.scene.camera.eye;
      plot.on("plotly_relayout", function () { writeIds(view); });
      writeIds(view);
      view.dataset.drawn = "yes";
    });
  }

  function close(view) {
    Plotly.purge(view.querySelector(".plot"));
    view.querySelector(".stage").hidden = true;
    view.querySelector(".open").parentElement.hidden = false;
    delete view.dataset.drawn;
    opened.splice(opened.indexOf(view), 1);
    for (const box of view.querySelectorAll("input")) {
      box.checked = true;
    }
  }

  function showClass(view, name, shown) {
    const plot = view.querySelector(".plot");
    const places = [];
    plot.data.forEach(function (trace, place) {
      if (trace.meta !== undefined && trace.meta[0] === name) {
        places.push(place);
      }
    });
    if (places.length > 0) {
      Plotly.restyle(plot, { visible: shown }, places).then(function () { writeIds(view); });
    }
  }

  // Ids stand on the surfaces that are shown and look towards the eye.
  function writeIds(view) {
    const plot = view.querySelector(".plot");
    const scene = plot.layout.scene;
    const eye = (scene.camera && scene.camera.eye) || view.eye;
    const seen = {};
    plot.data.forEach(function (trace) {
      if (trace.meta !== undefined) {
        const [, x, y, z] = trace.meta;
        const facing = x === undefined || x * eye.x + y * eye.y + z * eye.z > 0;
        seen[trace.name] = facing && trace.visible !== false;
      }
    });
    const change = {};
    scene.annotations.forEach(function (id, place) {
      if ((id.visible !== false) !== seen[id.text]) {
        change["scene.annotations[" + place + "].visible"] = seen[id.text];
      }
    });
    if (Object.keys(change).length > 0) {
      Plotly.relayout(plot, change);
    }
  }

  function turned(eye, turn) {
    const far = Math.hypot(eye.x, eye.y, eye.z);
    let round = Math.atan2(eye.y, eye.x);
    let high = Math.asin(eye.z / far);
    round += { left: -STEP, right: STEP }[turn] || 0;
    high += { up: STEP, down: -STEP }[turn] || 0;
    high = Math.max(-1.5, Math.min(1.5, high));
    return {
      x: far * Math.cos(high) * Math.cos(round),
      y: far * Math.cos(high) * Math.sin(round),
      z: far * Math.sin(high),
    };
  }

  function turn(view, name) {
    const plot = view.querySelector(".plot");
    const camera = plot.layout.scene.camera || {};
    let eye = camera.eye || view.eye;
    const scale = { near: 0.8, far: 1.25, back: -1 }[name] || 1;
    if (name === "front" || name === "back") {
      eye = { x: scale * view.eye.x, y: scale * view.eye.y, z: scale * view.eye.z };
    } else if (name === "near" || name === "far") {
      eye = { x: scale * eye.x, y: scale * eye.y, z: scale * eye.z };
    } else {
      eye = turned(eye, name);
    }
    Plotly.relayout(plot, { "scene.camera.eye": eye, "scene.camera.up": { x: 0, y: 0, z: 1 } });
  }

  // What is folded away is printed all the same.
  window.addEventListener("beforeprint", function () {
    for (const folded of document.querySelectorAll("details:not([open])")) {
      folded.open = true;
      folded.dataset.folded = "yes";
    }
  });
  window.addEventListener("afterprint", function () {
    for (const folded of document.querySelectorAll("details[data-folded]")) {
      folded.open = false;
      delete folded.dataset.folded;
    }
  });

  const views = Array.from(document.querySelectorAll(".view"));
  const can = views.length > 0 && drawable();
  for (const view of views) {
    if (!can) {
      view.querySelector(".open").parentElement.hidden = true;
      view.querySelector(".no-view").hidden = false;
      continue;
    }
    view.querySelector(".open").addEventListener("click", function () {
      open(view).then(function () { view.querySelector("input").focus(); });
    });
    view.querySelector(".close").addEventListener("click", function () {
      close(view);
      view.querySelector(".open").focus();
    });
    for (const box of view.querySelectorAll("input")) {
      box.addEventListener("change", function () { showClass(view, box.value, box.checked); });
    }
    for (const button of view.querySelectorAll("[data-turn]")) {
      button.addEventListener("click", function () { turn(view, button.dataset.turn); });
    }
  }
  // On a phone a view would catch the finger that scrolls, so it waits to be asked for.
  if (can && window.matchMedia("(min-width: 50rem) and (not (pointer: coarse))").matches) {
    open(views[0]);
  }
})();
