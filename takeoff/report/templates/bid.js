"use strict";
// Rows by arrow keys; 3-D views when they are asked for, a few at a time.
(function () {
  const MOST_VIEWS = 4; // browsers keep only so many drawing contexts
  const STEP = Math.PI / 12;
  const FILLED = 0.94; // of the frame
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
    const scene = figure.layout.scene;
    view.eye = Object.assign({}, scene.camera.eye);
    view.box = Object.assign({}, scene.aspectratio);
    view.zoom = 1;
    view.fits = 0;
    scene.aspectratio = fitted(view, view.eye);
    return Plotly.newPlot(plot, figure.data, figure.layout, config).then(function () {
      plot.on("plotly_relayout", function () { fit(view); writeIds(view); });
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

  // The largest size at which the box round the piece lies within the frame, seen from an eye: the
  // frame is two units high, and as wide as it looks. What has been turned does not grow again.
  function fitted(view, eye) {
    const plot = view.querySelector(".plot");
    const far = Math.hypot(eye.x, eye.y, eye.z);
    const flat = Math.max(Math.hypot(eye.x, eye.y), 1e-9);
    const right = [eye.y / flat, eye.x / flat, 0];
    const up = [eye.x * eye.z / flat / far, eye.y * eye.z / flat / far, flat / far];
    const half = [view.box.x / 2, view.box.y / 2, view.box.z / 2];
    const reach = function (axis) {
      return half.reduce((sum, one, place) => sum + one * Math.abs(axis[place]), 0);
    };
    const frame = plot.clientWidth + "x" + plot.clientHeight;
    const wide = plot.clientWidth / plot.clientHeight;
    const fits = FILLED * Math.min(wide / reach(right), 1 / reach(up));
    view.fits = view.frame === frame && view.fits > 0 ? Math.min(view.fits, fits) : fits;
    view.frame = frame;
    const size = view.fits * view.zoom;
    return { x: size * view.box.x, y: size * view.box.y, z: size * view.box.z };
  }

  // Brings a piece that was dragged, or whose frame has changed, back into its frame.
  function fit(view) {
    const plot = view.querySelector(".plot");
    const scene = plot.layout.scene;
    const ratio = fitted(view, (scene.camera && scene.camera.eye) || view.eye);
    if (Math.abs(ratio.x - scene.aspectratio.x) > 1e-6 * ratio.x) {
      Plotly.relayout(plot, { "scene.aspectratio": ratio });
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
    if (name === "front" || name === "back") {
      const side = name === "back" ? -1 : 1;
      eye = { x: side * view.eye.x, y: side * view.eye.y, z: side * view.eye.z };
      view.zoom = 1;
      view.fits = 0;
    } else if (name === "near" || name === "far") {
      view.zoom *= name === "near" ? 1.25 : 0.8;
    } else {
      eye = turned(eye, name);
    }
    Plotly.relayout(plot, {
      "scene.camera.eye": eye,
      "scene.camera.up": { x: 0, y: 0, z: 1 },
      "scene.aspectratio": fitted(view, eye),
    });
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
