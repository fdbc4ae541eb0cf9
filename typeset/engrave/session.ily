%% A LilyPond that sets batch after batch: it reads the name of each and how many sheets come after it, sets its
%% file, and says when it is done.

#(use-modules (ice-9 rdelim))

%% Guile's collector is off, for it takes longer than all music if it comes as it likes. Between batches it may come
%% once so many bytes were used up; not before the last sheets, which use less than it takes.
#(define shed-most-used 80000000)
#(define shed-last-sheets 40)

#(define (shed-tidy after)
   (if (and (> after shed-last-sheets)
            (> (assq-ref (gc-stats) 'heap-allocated-since-gc) shed-most-used))
       (begin (gc-enable) (gc) (gc-disable))))

#(define (shed-set-batches)
   (let ((asked (read-line)))
     (if (not (eof-object? asked))
         (let ((name (car (string-split asked #\space)))
               (after (string->number (cadr (string-split asked #\space)))))
           (ly:parser-parse-string (ly:parser-clone) (ly:gulp-file-utf8 (string-append name ".ly")))
           (format (current-output-port) "done ~a\n" name)
           (force-output)
           (shed-tidy after)
           (shed-set-batches)))))

#(shed-set-batches)
