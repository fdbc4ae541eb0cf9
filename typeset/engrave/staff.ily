%% How Shedbook's blocks are set: one system on a page of its own, every slot where it is told to stand.
%%
%% Each score says in System.details where its moments go, in millimetres from the staff's left end:
%%   places   ((moment . x) ...)  the middle of each head or rest
%%   barlines ((moment . x) ...)  the middle of each inner barline
%%   opening  x or #f             the middle of an opening repeat
%%   width    x                   the right edge of the last barline

#(define (shed-detail system key)
   (assoc-get key (ly:grob-property system 'details) #f))

#(define (shed-at places moment)
   (let ((found (assv (ly:moment-main moment) places)))
     (and found (cdr found))))

#(define (shed-middle grob system)
   (interval-center (ly:grob-extent grob system X)))

%% The grobs of a kind that stand in a column, the leftmost first.
#(define (shed-in-column column kinds system)
   (sort
     (filter (lambda (grob)
               (and (memq (grob::name grob) kinds)
                    (eq? (ly:item-get-column grob) column)
                    (ly:stencil? (ly:grob-property grob 'stencil))))
             (ly:grob-array->list (ly:grob-object system 'all-elements)))
     (lambda (one other)
       (< (car (ly:grob-extent one system X)) (car (ly:grob-extent other system X))))))

#(define (shed-move grob from to)
   (ly:grob-translate-axis! grob (- to from) X))

%% Lines have been broken (there is one), nothing has been drawn: now each column goes to its place.
#(define (shed-place system)
   (let* ((mm (ly:output-def-lookup (ly:grob-layout system) 'mm))
          (places (shed-detail system 'places))
          (barlines (shed-detail system 'barlines))
          (opening (shed-detail system 'opening))
          (columns (ly:grob-array->list (ly:grob-object system 'columns))))
     (for-each
       (lambda (column)
         (let* ((moment (ly:grob-property column 'when))
                (x (and (ly:moment? moment) (shed-at places moment))))
           (if (and x (eq? (grob::name column) 'PaperColumn))
               (let ((heads (shed-in-column column '(NoteHead) system))
                     (rests (shed-in-column column '(Rest) system)))
                 (shed-move column
                   (cond ((pair? heads) (shed-middle (car heads) system))
                         ((pair? rests) (shed-middle (car rests) system))
                         (else (ly:grob-relative-coordinate column system X)))
                   (* mm x))))))
       columns)
     (for-each
       (lambda (column)
         (let* ((moment (ly:grob-property column 'when))
                (bars (shed-in-column column '(BarLine) system))
                (x (and (ly:moment? moment) (shed-at barlines moment))))
           (if (pair? bars)
               (cond ((eq? column (car columns))
                      (if opening (shed-move (car bars) (shed-middle (car bars) system) (* mm opening))))
                     ((eq? column (last columns))
                      (shed-move column (cdr (ly:grob-extent (car bars) system X))
                        (* mm (shed-detail system 'width))))
                     (x (shed-move column (shed-middle (car bars) system) (* mm x)))))))
       (filter (lambda (column) (eq? (grob::name column) 'NonMusicalPaperColumn)) columns))))

%% One line for each block: its name and the ink's box, in millimetres from the page's upper left corner, up counted positive.
#(define (shed-report layout pages)
   (let* ((mm (ly:output-def-lookup layout 'mm))
          (name (ly:output-def-lookup layout 'shed-name #f))
          (left (ly:output-def-lookup layout 'left-margin))
          (line (and name (car (ly:prob-property (last pages) 'lines)))))
     (if line
         (let* ((stencil (ly:prob-property line 'stencil))
                (x (ly:stencil-extent stencil X))
                (y (ly:stencil-extent stencil Y))
                (down (ly:prob-property line 'Y-offset 0)))
           (format (current-output-port) "shed ~a ~a ~a ~a ~a\n" name
             (/ (+ left (car x)) mm) (/ (- (car y) down) mm)
             (/ (+ left (cdr x)) mm) (/ (- (cdr y) down) mm))
           (force-output (current-output-port))))))

%% A ghost stroke: the head in small parentheses that take no room, so that neighbours and stems stay put.
#(define (shed-ghost-head grob)
   (let* ((head (ly:note-head::print grob))
          (font (ly:grob-default-font grob))
          (left (ly:font-get-glyph font "accidentals.leftparen"))
          (right (ly:font-get-glyph font "accidentals.rightparen"))
          (x (ly:stencil-extent head X)))
     (ly:make-stencil
       (ly:stencil-expr
         (ly:stencil-add head
           (ly:stencil-translate-axis left (- (car x) 0.05 (cdr (ly:stencil-extent left X))) X)
           (ly:stencil-translate-axis right (- (+ (cdr x) 0.05) (car (ly:stencil-extent right X))) X)))
       x (ly:stencil-extent head Y))))

%% An additive meter, such as 3+2+2 over 8.
#(define ((shed-additive groups below) grob)
   (grob-interpret-markup grob
     (make-override-markup '(baseline-skip . 0) (make-compound-meter-markup (list (append groups (list below)))))))

shedPaper = \paper {
  ragged-right = ##f
  indent = 0
  top-margin = 0
  bottom-margin = 0
  oddHeaderMarkup = ##f
  evenHeaderMarkup = ##f
  oddFooterMarkup = ##f
  evenFooterMarkup = ##f
  bookTitleMarkup = ##f
  scoreTitleMarkup = ##f
  top-system-spacing = #`((basic-distance . ,shed-above) (minimum-distance . ,shed-above) (padding . -100) (stretchability . 0))
  last-bottom-spacing = #'((basic-distance . 0) (minimum-distance . 0) (padding . -100) (stretchability . 0))
  page-post-process = #shed-report
}

shedUp = { \stemUp \override Script.direction = #UP \tupletUp }
shedHands = { \voiceOne }
shedFeet = { \voiceTwo }

shedGlyphs = \markup \overlay {
  \musicglyph "noteheads.s2" \musicglyph "clefs.percussion"
}

\layout {
  \context {
    \Score
    proportionalNotationDuration = #(ly:make-moment 1/16)
    \override SpacingSpanner.strict-note-spacing = ##t
    \override SpacingSpanner.uniform-stretching = ##t
    \override System.after-line-breaking = #shed-place
    \override Beam.damping = #+inf.0
    \omit BarNumber
  }
  \context {
    \DrumStaff
    drumStyleTable = #shed-drums
    \numericTimeSignature
  }
}
