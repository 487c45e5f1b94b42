drop table piece_swap, piece_part_child, piece_part_rung, piece_part, piece;
