(function () {
  'use strict';
  var steps = [1, 1.5, 2, 3, 4, 6, 8, 12];

  // A picture keeps the point in its middle where it is while it grows.
  function zoomable(figure) {
    var stage = figure.querySelector('.stage');
    var tools = figure.querySelector('.tools');
    var shown = figure.querySelector('output');
    var picture = figure.querySelector('.pic');
    var at = 0;
    function set(next) {
      next = Math.max(0, Math.min(steps.length - 1, next));
      var grow = steps[next] / steps[at];
      var x = stage.scrollLeft + stage.clientWidth / 2;
      var y = stage.scrollTop + stage.clientHeight / 2;
      at = next;
      picture.style.setProperty('--zoom', steps[at]);
      stage.classList.toggle('grab', at > 0);
      stage.scrollLeft = x * grow - stage.clientWidth / 2;
      stage.scrollTop = y * grow - stage.clientHeight / 2;
      shown.textContent = steps[at] + ' ×';
    }
    tools.hidden = false;
    tools.addEventListener('click', function (event) {
      var how = event.target.dataset.zoom;
      if (how === 'in') set(at + 1);
      if (how === 'out') set(at - 1);
      if (how === 'fit') set(0);
    });
    stage.addEventListener('keydown', function (event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === '+' || event.key === '=') set(at + 1);
      else if (event.key === '-') set(at - 1);
      else if (event.key === '0') set(0);
      else return;
      event.preventDefault();
    });
    draggable(stage);
  }

  function draggable(stage) {
    var from = null;
    stage.addEventListener('pointerdown', function (event) {
      if (event.pointerType !== 'mouse' || event.button !== 0) return;
      from = { x: event.clientX + stage.scrollLeft, y: event.clientY + stage.scrollTop };
      stage.setPointerCapture(event.pointerId);
    });
    stage.addEventListener('pointermove', function (event) {
      if (!from) return;
      stage.scrollLeft = from.x - event.clientX;
      stage.scrollTop = from.y - event.clientY;
    });
    stage.addEventListener('pointerup', function () { from = null; });
    stage.addEventListener('pointercancel', function () { from = null; });
  }

  // A number's button marks its copies in the picture.
  function findable(layout) {
    layout.addEventListener('click', function (event) {
      var button = event.target.closest('.find');
      if (!button) return;
      var on = button.getAttribute('aria-pressed') !== 'true';
      button.setAttribute('aria-pressed', on);
      layout.querySelectorAll('.copies use[data-n="' + button.dataset.n + '"]').forEach(function (copy) {
        copy.classList.toggle('found', on);
      });
    });
  }

  document.querySelectorAll('.zoomed').forEach(zoomable);
  document.querySelectorAll('.layout').forEach(findable);
})();
