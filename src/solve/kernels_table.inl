// One row of kernels under the names they have in the file that includes this.
static const Kernels kTable{
    kName,
    factorise,
    solve,
    {factorise_range, pull, subtract_columns, eliminate_columns, divide_columns, solve_down,
     solve_up},
    multiply,
    multiply_transposed,
    factorise_lu,
    solve_lu,
    solve_lane,
    solve_lanes,
    {transposed, gather, spread, gather_scaled, assemble, weigh, residuals, aim_tau, aim_affine,
     second_order, correct, aim_centre, dot_residuals, dot_costs, direct, advance}};
